import type { ByteSource } from '../byte-source.ts';
import { readBytes, truncated } from './tiff-error.ts';

/** A cloud-optimised file keeps all its directories in the first read of this size. */
const FIRST_READ = 16 * 1024;
const NEXT_READ = 4 * 1024;
/** No tag of an honest file is longer; checked before anything is allocated. */
const LONGEST_VALUE = 64 * 1024 * 1024;

/** Small reads from the directories of a file, few trips to the source. */
export class HeaderBytes {
  readonly size: number;
  readonly source: ByteSource;
  private readonly chunks: { start: number; bytes: Uint8Array }[] = [];

  constructor(source: ByteSource) {
    this.source = source;
    this.size = source.size;
  }

  /** A view of exactly `length` bytes from `offset`; throws `TiffError` past the end of the file. */
  async view(offset: number, length: number, what: string): Promise<DataView> {
    if (!(offset >= 0) || !(offset + length <= this.size) || length > LONGEST_VALUE) {
      throw truncated(`The file ends before ${what} (byte ${offset}, file of ${this.size} bytes).`);
    }
    let chunk = this.chunks.find(
      (c) => c.start <= offset && offset + length <= c.start + c.bytes.byteLength,
    );
    if (!chunk) {
      const ahead = this.chunks.length === 0 ? FIRST_READ : NEXT_READ;
      const wanted = Math.min(Math.max(length, ahead), this.size - offset);
      chunk = { start: offset, bytes: await readBytes(this.source, offset, wanted) };
      if (chunk.bytes.byteLength < length) {
        throw truncated(`The file ends before ${what} (byte ${offset}).`);
      }
      this.chunks.push(chunk);
    }
    const { bytes, start } = chunk;
    return new DataView(bytes.buffer, bytes.byteOffset + (offset - start), length);
  }
}
