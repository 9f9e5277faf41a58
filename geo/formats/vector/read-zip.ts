import type { Work } from '../../work.ts';
import { crc32 } from '../zip/crc32.ts';
import { inflateMember } from '../zip/inflate-member.ts';
import {
  findZipEnd,
  localHeaderLength,
  readZipDirectory,
  readZipEnd,
  type ZipMember,
} from '../zip/zip-directory.ts';
import { FETCH_AGAIN, VectorError } from './vector-error.ts';

const MOST_MEMBERS = 20_000;

/**
 * The files of a zip (PKWARE APPNOTE 6.3: central directory; stored or deflated, not encrypted, not
 * zip64). Nothing is unpacked yet, so nothing is believed of the sizes.
 * Throws VectorError where the directory is damaged.
 */
export function listZip(bytes: Uint8Array, file: string): ZipMember[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = findZipEnd(view);
  if (end < 0) throw damagedZip(file);
  const { count, directoryOffset } = readZipEnd(view, end);
  const upToEnd = new DataView(bytes.buffer, bytes.byteOffset, end);
  const members = readZipDirectory(upToEnd, directoryOffset, Math.min(count, MOST_MEMBERS));
  if (members === null) throw damagedZip(file);
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
  const whole =
    member.method === 0 ? packed : yield* inflateMember(packed, member.size, `Unpacking ${where}`);
  if (whole === null || whole.length !== member.size || crc32(whole) !== member.crc) {
    throw damagedZip(where);
  }
  return whole;
}

function packedBytes(bytes: Uint8Array, member: ZipMember, where: string): Uint8Array {
  const { offset, packedSize } = member;
  if (offset > bytes.length) throw damagedZip(where);
  const header = new DataView(bytes.buffer, bytes.byteOffset + offset, bytes.byteLength - offset);
  const skip = localHeaderLength(header);
  if (skip === null || offset + skip + packedSize > bytes.length) throw damagedZip(where);
  return bytes.subarray(offset + skip, offset + skip + packedSize);
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
