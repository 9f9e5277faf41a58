import { Inflate } from 'fflate';
import type { Work } from '../../work.ts';
import { crc32 } from './crc32.ts';
import { FETCH_AGAIN, VectorError } from './vector-error.ts';

/** One file of a zip, by its entry in the directory at the end. */
export interface ZipMember {
  readonly path: string;
  readonly method: number;
  readonly crc: number;
  readonly packedSize: number;
  readonly size: number;
  /** Where its local header begins. */
  readonly offset: number;
}

const END_SIGNATURE = 0x06054b50;
const DIRECTORY_SIGNATURE = 0x02014b50;
const LOCAL_SIGNATURE = 0x04034b50;
const MOST_MEMBERS = 20_000;
const PUSH_BYTES = 1 << 14;

/**
 * The files of a zip (PKWARE APPNOTE 6.3: central directory; stored or deflated, not encrypted, not
 * zip64). Nothing is unpacked yet, so nothing is believed of the sizes.
 * Throws VectorError where the directory is damaged.
 */
export function listZip(bytes: Uint8Array, file: string): ZipMember[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endRecord(view, file);
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  const members: ZipMember[] = [];
  for (let i = 0; i < Math.min(count, MOST_MEMBERS); i++) {
    if (at + 46 > end || view.getUint32(at, true) !== DIRECTORY_SIGNATURE) throw damagedZip(file);
    const nameLength = view.getUint16(at + 28, true);
    const next =
      at + 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (next > end) throw damagedZip(file);
    const flags = view.getUint16(at + 8, true);
    const method = view.getUint16(at + 10, true);
    const nameBytes = bytes.subarray(at + 46, at + 46 + nameLength);
    members.push({
      path: new TextDecoder(flags & 0x800 ? 'utf-8' : 'windows-1252').decode(nameBytes),
      // Encrypted content is a method of its own that nothing here unpacks.
      method: flags & 1 ? -1 : method,
      crc: view.getUint32(at + 16, true),
      packedSize: view.getUint32(at + 20, true),
      size: view.getUint32(at + 24, true),
      offset: view.getUint32(at + 42, true),
    });
    at = next;
  }
  return members;
}

/**
 * Unpacks one member and holds it to what the directory promised: its size and its checksum. Stops
 * as soon as more comes out than promised. Throws VectorError.
 */
export function* unpackMember(
  bytes: Uint8Array,
  member: ZipMember,
  file: string,
): Work<Uint8Array> {
  const where = `${file}, ${baseName(member.path)}`;
  const packed = packedBytes(bytes, member, where);
  if (member.method !== 0 && member.method !== 8) throw strangeMethod(member.method, where);
  const whole = member.method === 0 ? packed : yield* inflate(packed, member.size, where);
  if (whole.length !== member.size || crc32(whole) !== member.crc) throw damagedZip(where);
  return whole;
}

function* inflate(packed: Uint8Array, size: number, where: string): Work<Uint8Array> {
  const whole = new Uint8Array(size);
  let filled = 0;
  const stream = new Inflate((chunk) => {
    if (filled + chunk.length > size) throw damagedZip(where);
    whole.set(chunk, filled);
    filled += chunk.length;
  });
  for (let at = 0; at < packed.length; at += PUSH_BYTES) {
    const isLast = at + PUSH_BYTES >= packed.length;
    try {
      stream.push(packed.subarray(at, at + PUSH_BYTES), isLast);
    } catch (error) {
      if (error instanceof VectorError) throw error;
      // The library says only that the stream is wrong.
      throw damagedZip(where);
    }
    yield { share: at / packed.length, doing: `Unpacking ${where}` };
  }
  return filled === size ? whole : whole.subarray(0, filled);
}

function packedBytes(bytes: Uint8Array, member: ZipMember, where: string): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const { offset } = member;
  if (offset + 30 > bytes.length || view.getUint32(offset, true) !== LOCAL_SIGNATURE) {
    throw damagedZip(where);
  }
  const start = offset + 30 + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
  if (start + member.packedSize > bytes.length) throw damagedZip(where);
  return bytes.subarray(start, start + member.packedSize);
}

/** The end record stands last, before a comment of up to 64 k. */
function endRecord(view: DataView, file: string): number {
  const least = Math.max(0, view.byteLength - 22 - 0xffff);
  for (let at = view.byteLength - 22; at >= least; at--) {
    if (view.getUint32(at, true) === END_SIGNATURE) return at;
  }
  throw damagedZip(file);
}

export function baseName(path: string): string {
  return path.replace(/^.*[\\/]/s, '');
}

function damagedZip(where: string): VectorError {
  return new VectorError('zip-damaged', 'The zip is damaged or not whole.', FETCH_AGAIN, where);
}

function strangeMethod(method: number, where: string): VectorError {
  return method === -1
    ? new VectorError(
        'zip-encrypted',
        'The zip is locked with a password.',
        'Unzip it with its password, and open the files inside together.',
        where,
      )
    : new VectorError(
        'zip-method',
        'The zip is packed in a way that is not read here.',
        'Unzip it, and open the files inside together.',
        where,
      );
}
