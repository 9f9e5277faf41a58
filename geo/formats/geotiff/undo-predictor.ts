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
    if (bits === 32 && samples === 1) {
      const scratch = new Uint8Array(perRow * 4);
      const words = new Uint32Array(block);
      for (let row = 0; row < rows; row++) floatRow(bytes, words, scratch, row * perRow, perRow);
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
 * most significant first. Four running sums are kept, one per plane, started where the plane before
 * ends, so that no byte is touched twice.
 */
function floatRow(
  bytes: Uint8Array,
  words: Uint32Array,
  scratch: Uint8Array,
  firstCell: number,
  cells: number,
): void {
  const from = firstCell * 4;
  scratch.set(bytes.subarray(from, from + cells * 4));
  let sum = 0;
  for (let i = 0; i < cells; i++) sum += scratch[i];
  let a = 0;
  let b = sum;
  for (let i = cells, end = 2 * cells; i < end; i++) sum += scratch[i];
  let c = sum;
  for (let i = 2 * cells, end = 3 * cells; i < end; i++) sum += scratch[i];
  let d = sum;
  const atB = cells;
  const atC = 2 * cells;
  const atD = 3 * cells;
  for (let i = 0; i < cells; i++) {
    a += scratch[i];
    b += scratch[atB + i];
    c += scratch[atC + i];
    d += scratch[atD + i];
    words[firstCell + i] = (a << 24) | ((b & 255) << 16) | ((c & 255) << 8) | (d & 255);
  }
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
