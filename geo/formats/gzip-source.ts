import { Gunzip } from 'fflate';
import type { ByteSource } from './byte-source.ts';

/** A push of so much packed data unpacks to 16 MB at most. */
const PUSH_BYTES = 1 << 14;

/** The packed data is damaged, or ends too early. */
export class GzipError extends Error {}

/** Whether the first bytes are those of gzip (RFC 1952). */
export const isGzip = (head: Uint8Array): boolean =>
  head[0] === 0x1f && head[1] === 0x8b && head[2] === 8;

/**
 * A gzip file as the bytes inside it, unpacked as they are read, so that only what lies about the
 * place of the last read is held. Made for reading onward; a read before the last one begins anew.
 * `size` is what the file promises at its end; files over 4 GB and several packed behind one another
 * are not read. Reads throw `GzipError` where the data is damaged or is not what was promised.
 */
export async function gzipSource(packed: ByteSource): Promise<ByteSource> {
  const tail = await packed.read(Math.max(0, packed.size - 4), 4);
  const view = new DataView(tail.buffer, tail.byteOffset, tail.byteLength);
  const size = tail.length < 4 ? 0 : view.getUint32(0, true);
  const stream = new Unpacking(packed, size);
  return {
    name: packed.name.replace(/\.gz$/i, ''),
    size,
    read: (offset, length) => stream.read(offset, length),
  };
}

class Unpacking {
  private readonly packed: ByteSource;
  private readonly promised: number;
  private inflate = this.begin();
  private position = 0;
  /** What has been unpacked and not been left behind: it begins at `start`. */
  private pieces: Uint8Array[] = [];
  private start = 0;
  private end = 0;

  constructor(packed: ByteSource, promised: number) {
    this.packed = packed;
    this.promised = promised;
  }

  private begin(): Gunzip {
    return new Gunzip((chunk) => {
      this.pieces.push(chunk);
      this.end += chunk.length;
    });
  }

  async read(offset: number, length: number): Promise<Uint8Array> {
    if (offset < this.start) {
      this.inflate = this.begin();
      this.pieces = [];
      this.position = this.start = this.end = 0;
    }
    while (this.end < offset + length && this.position < this.packed.size) {
      this.leaveBehind(offset);
      await this.unpackMore();
    }
    // Several files packed one behind the other promise only the size of the last.
    const isAtEnd = this.position >= this.packed.size;
    if (this.end > this.promised || (isAtEnd && this.end < this.promised)) {
      throw new GzipError(`${this.packed.name} does not hold what it promises`);
    }
    this.leaveBehind(offset);
    return this.cut(offset, Math.min(length, Math.max(0, this.end - offset)));
  }

  private async unpackMore(): Promise<void> {
    const bytes = await this.packed.read(this.position, PUSH_BYTES);
    this.position += bytes.length;
    const isLast = this.position >= this.packed.size || bytes.length === 0;
    try {
      // The library may keep what it is given.
      this.inflate.push(Uint8Array.from(bytes), isLast);
    } catch {
      throw new GzipError(`${this.packed.name} is damaged`);
    }
    if (bytes.length === 0) throw new GzipError(`${this.packed.name} ends too early`);
  }

  private leaveBehind(offset: number): void {
    while (this.pieces.length > 0 && this.start + this.pieces[0]!.length <= offset) {
      this.start += this.pieces.shift()!.length;
    }
  }

  private cut(offset: number, length: number): Uint8Array {
    const out = new Uint8Array(length);
    let at = this.start;
    for (const piece of this.pieces) {
      const from = Math.max(0, offset - at);
      const to = Math.min(piece.length, offset + length - at);
      if (to > from) out.set(piece.subarray(from, to), at + from - offset);
      at += piece.length;
      if (at >= offset + length) break;
    }
    return out;
  }
}
