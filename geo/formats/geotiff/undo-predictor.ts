/**
 * Undoes the two predictors of TIFF in place (TIFF 6.0 section 14; Adobe Photoshop TIFF Technical
 * Note 3 for floating point). `rows` rows of `width` cells with `samples` values each. Predictor 2
 * wants values in the machine's byte order, predictor 3 the bytes as stored.
 *
 * @throws RangeError on a combination that TIFF does not know
 */
export function undoPredictor(
  block: ArrayBuffer,
  predictor: number,
  bits: number,
  width: number,
  rows: number,
  samples: number,
): void {
  const perRow = width * samples;
  if (predictor === 2) {
    if (bits === 8) sumRows(new Uint8Array(block), perRow, rows, samples);
    else if (bits === 16) sumRows16(new Uint16Array(block), perRow, rows, samples);
    else if (bits === 32) sumRows32(new Uint32Array(block), perRow, rows, samples);
    else if (bits === 64) sumRows64(new BigUint64Array(block), perRow, rows, samples);
    else throw new RangeError(`predictor 2 with ${bits} bits`);
  } else if (predictor === 3) {
    const bytes = new Uint8Array(block);
    if (bits === 32 && samples === 1 && width % 4 === 0) {
      const scratch = new Uint8Array(perRow * 4);
      const scratchWords = new Uint32Array(scratch.buffer);
      const words = new Uint32Array(block);
      for (let row = 0; row < rows; row++)
        floatRow(words, scratch, scratchWords, row * perRow, perRow);
    } else if (bits === 16 || bits === 32 || bits === 64) {
      const size = bits / 8;
      const scratch = new Uint8Array(perRow * size);
      for (let row = 0; row < rows; row++)
        floatRowAny(bytes, scratch, row * perRow * size, perRow, samples, size);
    } else throw new RangeError(`predictor 3 with ${bits} bits`);
  } else if (predictor !== 1) throw new RangeError(`predictor ${predictor}`);
}

/**
 * One row of 32-bit floats: the bytes are differences from the byte before, and lie in four planes,
 * most significant first. Four running sums are kept, each started where the plane before it ends,
 * two to a word (sums of 8 bits, 16 apart, never touch), so that a cell is made in one step.
 */
function floatRow(
  words: Uint32Array,
  scratch: Uint8Array,
  scratchWords: Uint32Array,
  firstCell: number,
  cells: number,
): void {
  scratchWords.set(words.subarray(firstCell, firstCell + cells));
  const quarter = cells >> 2;
  const b = byteSum(scratchWords, 0, quarter);
  const c = b + byteSum(scratchWords, quarter, 2 * quarter);
  const d = c + byteSum(scratchWords, 2 * quarter, 3 * quarter);
  const atB = cells;
  const atC = 2 * cells;
  const atD = 3 * cells;
  let ac = c & 255;
  let bd = ((b & 255) << 16) | (d & 255);
  for (let i = 0; i < cells; i++) {
    ac = (ac + ((scratch[i] << 16) | scratch[atC + i])) & 0xff00ff;
    bd = (bd + ((scratch[atB + i] << 16) | scratch[atD + i])) & 0xff00ff;
    words[firstCell + i] = (ac << 8) | bd;
  }
}

/** Sum of all bytes of a run of words, modulo 256. */
function byteSum(words: Uint32Array, from: number, to: number): number {
  let even = 0;
  let odd = 0;
  for (let i = from; i < to; i++) {
    const word = words[i];
    even = (even + (word & 0xff00ff)) & 0xff00ff;
    odd = (odd + ((word >>> 8) & 0xff00ff)) & 0xff00ff;
  }
  const both = even + odd;
  return (both + (both >>> 16)) & 255;
}

function floatRowAny(
  bytes: Uint8Array,
  scratch: Uint8Array,
  from: number,
  values: number,
  samples: number,
  size: number,
): void {
  const length = values * size;
  scratch.set(bytes.subarray(from, from + length));
  for (let i = samples; i < length; i++) scratch[i] += scratch[i - samples];
  for (let i = 0; i < values; i++) {
    for (let k = 0; k < size; k++) {
      bytes[from + i * size + k] = scratch[(size - 1 - k) * values + i];
    }
  }
}

function sumRows(data: Uint8Array, perRow: number, rows: number, samples: number): void {
  for (let row = 0; row < rows; row++) {
    const end = (row + 1) * perRow;
    for (let i = row * perRow + samples; i < end; i++) data[i] += data[i - samples];
  }
}

function sumRows16(data: Uint16Array, perRow: number, rows: number, samples: number): void {
  for (let row = 0; row < rows; row++) {
    const end = (row + 1) * perRow;
    for (let i = row * perRow + samples; i < end; i++) data[i] += data[i - samples];
  }
}

function sumRows32(data: Uint32Array, perRow: number, rows: number, samples: number): void {
  for (let row = 0; row < rows; row++) {
    const end = (row + 1) * perRow;
    for (let i = row * perRow + samples; i < end; i++) data[i] += data[i - samples];
  }
}

function sumRows64(data: BigUint64Array, perRow: number, rows: number, samples: number): void {
  for (let row = 0; row < rows; row++) {
    const end = (row + 1) * perRow;
    for (let i = row * perRow + samples; i < end; i++) data[i] += data[i - samples];
  }
}
