import { adler32 } from './adler32.ts';
import { distances, fixedTables, literals, readTables, take } from './deflate-codes.ts';
import { unpackCodes, type Stream } from './inflate-loop.ts';

/**
 * Inflate (RFC 1951) made for survey blocks: mostly literals of eight or nine bits. Half again as fast
 * here as the library's with the checksum counted in; a test holds it against zlib itself.
 */

/** Bytes after the packed ones that may be read (never used); see `withSlack`. */
const SLACK = 8;

/** A copy of the bytes that `unpackZlib` can read without one of its own. */
export function withSlack(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  const copy = new Uint8Array(bytes.byteLength + SLACK);
  copy.set(bytes);
  return copy.subarray(0, bytes.byteLength);
}

/**
 * Unpacks zlib data (RFC 1950: head, deflate data, checksum) into `out`. The checksum is looked at:
 * a flipped bit often unpacks into nonsense without any other sign.
 *
 * @returns how many bytes were written
 * @throws Error where the data is damaged, ends too early or holds more than `out`
 */
export function unpackZlib(packed: Uint8Array, out: Uint8Array): number {
  const [method, flags] = packed;
  if ((method! & 15) !== 8 || ((method! << 8) | flags!) % 31 !== 0 || (flags! & 32) !== 0) {
    throw new Error('not zlib data');
  }
  const roomy = packed.buffer.byteLength - packed.byteOffset >= packed.byteLength + SLACK;
  const source = roomy ? packed : withSlack(packed);
  const stream: Stream = {
    view: new DataView(source.buffer, source.byteOffset, source.byteLength + SLACK),
    bytes: source,
    at: 2,
    held: 0,
    heldBits: 0,
    written: 0,
  };
  for (let last = false; !last;) {
    last = take(stream, 1) === 1;
    const kind = take(stream, 2);
    if (kind === 0) copyStored(stream, out);
    else {
      if (kind === 1) fixedTables();
      else if (kind === 2) readTables(stream);
      else throw new Error('deflate block of kind 3');
      unpackCodes(stream, literals, distances, out);
    }
    if (stream.written > out.length) throw new Error('more data than cells');
  }
  const end = stream.at - (stream.heldBits >> 3);
  if (end + 4 > packed.byteLength) throw new Error('deflate data ends');
  if (stream.view.getUint32(end, false) !== adler32(out.subarray(0, stream.written))) {
    throw new Error('checksum does not fit');
  }
  return stream.written;
}

function copyStored(s: Stream, out: Uint8Array): void {
  s.at -= s.heldBits >> 3;
  s.held = 0;
  s.heldBits = 0;
  const size = take(s, 16);
  if (take(s, 16) !== (size ^ 0xffff)) throw new Error('deflate stored block of unsure size');
  if (s.at + size > s.bytes.length) throw new Error('deflate data ends');
  const room = Math.max(0, Math.min(size, out.length - s.written));
  out.set(s.bytes.subarray(s.at, s.at + room), s.written);
  s.at += size;
  s.written += size;
}
