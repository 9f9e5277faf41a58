import { COMPRESSION } from './tiff-tags.ts';
import { undoPredictor } from './undo-predictor.ts';
import { yCbCrToRgb } from './ycbcr.ts';
import { unpackZlib } from './unpack-deflate.ts';
import { unpackLzw } from './unpack-lzw.ts';
import { unpackPackBits } from './unpack-packbits.ts';

/** What a block needs to be unpacked, as plain data, so that it can be sent to a worker. */
export interface BlockParams {
  readonly compression: number;
  readonly predictor: number;
  readonly bits: number;
  readonly littleEndian: boolean;
  /** Cells across and rows down as stored, and values per cell in this block. */
  readonly width: number;
  readonly rows: number;
  readonly samples: number;
  /** Rows that the raster really needs; the last strip may be shorter than `rows`. */
  readonly rowsNeeded: number;
  readonly jpegTables: Uint8Array | null;
  /** What a JPEG block of three values holds; it comes out as red, green, blue either way. */
  readonly jpegColours: 'ycbcr' | 'rgb';
}

/** Who unpacks blocks: this thread, or a pool of workers. */
export interface BlockDecoder {
  /** Blocks worked on at the same time; the reader keeps about twice as many on their way. */
  readonly lanes: number;
  /** `bytes` may be taken away (transferred). Rejects where the block is damaged. */
  decode(bytes: Uint8Array<ArrayBuffer>, params: BlockParams): Promise<ArrayBuffer>;
  /** A block that is no longer looked at: its memory serves for one of the next. */
  giveBack?(block: ArrayBuffer): void;
}

const spares: ArrayBuffer[] = [];

/** Unpacks in the calling thread. */
export const decodeHere: BlockDecoder = {
  lanes: 1,
  decode: (bytes, params) => decodeBlock(bytes, params, spares.pop()),
  giveBack: (block) => {
    spares[0] = block;
  },
};

/**
 * Unpacks one strip or tile: undoes compression, byte order and predictor.
 *
 * @param spare memory of an earlier block, taken over where it has the right size: fresh memory costs
 *   more than unpacking into it
 * @returns `width * rows * samples` values row by row in this machine's byte order (1-bit samples
 *   stay packed, each row starting a new byte; JPEG in YCbCr as RGB); rows past `rowsNeeded` hold anything
 * @throws Error (rejects) where the bytes are damaged or too few
 */
export async function decodeBlock(
  bytes: Uint8Array<ArrayBuffer>,
  params: BlockParams,
  spare?: ArrayBuffer,
): Promise<ArrayBuffer> {
  const { bits, predictor, width, rows, samples } = params;
  const bytesPerRow = Math.ceil((width * samples * bits) / 8);
  const size = bytesPerRow * rows;
  const needed = bytesPerRow * params.rowsNeeded;
  let block: ArrayBuffer;
  let written: number;
  if (params.compression === COMPRESSION.Jpeg || params.compression === COMPRESSION.Zstd) {
    const codecs = await import('./decode-with-geotiff.ts');
    const unpacked = await codecs.decodeWithGeotiff(bytes, params);
    written = Math.min(size, unpacked.byteLength);
    block = exactly(unpacked, size, written);
    if (
      params.compression === COMPRESSION.Jpeg &&
      samples === 3 &&
      params.jpegColours === 'ycbcr'
    ) {
      yCbCrToRgb(new Uint8ClampedArray(block), 3);
    }
  } else if (params.compression === COMPRESSION.None) {
    written = Math.min(size, bytes.byteLength);
    block = exactly(bytes, size, written);
  } else {
    block = spare?.byteLength === size ? spare : new ArrayBuffer(size);
    written = unpackInto(bytes, new Uint8Array(block), params.compression);
  }
  if (written < needed) throw new Error(`block holds ${written} of ${needed} bytes`);

  if (!params.littleEndian && predictor !== 3) swapBytes(block, bits);
  if (predictor !== 1) undoPredictor(block, predictor, bits, width, params.rowsNeeded, samples);
  return block;
}

function unpackInto(bytes: Uint8Array, out: Uint8Array, compression: number): number {
  if (compression === COMPRESSION.Lzw) return unpackLzw(bytes, out);
  if (compression === COMPRESSION.PackBits) return unpackPackBits(bytes, out);
  if (compression === COMPRESSION.Deflate || compression === COMPRESSION.DeflateOld) {
    return unpackZlib(bytes, out);
  }
  throw new RangeError(`compression ${compression}`);
}

/** The bytes as a buffer of their own of `size` bytes, without a copy where they already are. */
function exactly(bytes: Uint8Array<ArrayBuffer>, size: number, written: number): ArrayBuffer {
  if (bytes.byteOffset === 0 && bytes.buffer.byteLength === size) return bytes.buffer;
  const block = new ArrayBuffer(size);
  new Uint8Array(block).set(bytes.subarray(0, written));
  return block;
}

function swapBytes(block: ArrayBuffer, bits: number): void {
  const view = new DataView(block);
  if (bits === 16) {
    const out = new Uint16Array(block);
    for (let i = 0; i < out.length; i++) out[i] = view.getUint16(2 * i, false);
  } else if (bits === 32) {
    const out = new Uint32Array(block);
    for (let i = 0; i < out.length; i++) out[i] = view.getUint32(4 * i, false);
  } else if (bits === 64) {
    const out = new BigUint64Array(block);
    for (let i = 0; i < out.length; i++) out[i] = view.getBigUint64(8 * i, false);
  }
}
