/** One file of a zip, by its entry in the directory at the end. */
export interface ZipMember {
  readonly path: string;
  /** 0 stored, 8 deflated; -1 encrypted, which nothing here unpacks. */
  readonly method: number;
  readonly crc: number;
  readonly packedSize: number;
  readonly size: number;
  /** Where its local header begins. */
  readonly offset: number;
}

/** The last record of a zip. */
export interface ZipEnd {
  readonly count: number;
  readonly directorySize: number;
  readonly directoryOffset: number;
}

const END_SIGNATURE = 0x06054b50;
const DIRECTORY_SIGNATURE = 0x02014b50;
const LOCAL_SIGNATURE = 0x04034b50;

/** The end record stands in the last so many bytes: it has a comment of up to 64 k. */
export const END_BYTES = 22 + 0xffff;
export const LOCAL_HEADER_BYTES = 30;

/**
 * Where the end record begins in the last bytes of a zip (PKWARE APPNOTE 6.3, 4.3.16), or -1.
 */
export function findZipEnd(tail: DataView): number {
  const least = Math.max(0, tail.byteLength - END_BYTES);
  for (let at = tail.byteLength - 22; at >= least; at--) {
    if (tail.getUint32(at, true) === END_SIGNATURE) return at;
  }
  return -1;
}

export function readZipEnd(tail: DataView, at: number): ZipEnd {
  return {
    count: tail.getUint16(at + 10, true),
    directorySize: tail.getUint32(at + 12, true),
    directoryOffset: tail.getUint32(at + 16, true),
  };
}

/**
 * Entries of the directory that lies from `at` on in `view` (APPNOTE 4.3.12), at most `count`; null
 * where it is damaged. Nothing is unpacked, so nothing is believed of the sizes.
 */
export function readZipDirectory(view: DataView, at: number, count: number): ZipMember[] | null {
  const members: ZipMember[] = [];
  for (let i = 0; i < count; i++) {
    if (at + 46 > view.byteLength || view.getUint32(at, true) !== DIRECTORY_SIGNATURE) return null;
    const nameLength = view.getUint16(at + 28, true);
    const next =
      at + 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (next > view.byteLength) return null;
    const flags = view.getUint16(at + 8, true);
    const nameBytes = new Uint8Array(view.buffer, view.byteOffset + at + 46, nameLength);
    members.push({
      path: new TextDecoder(flags & 0x800 ? 'utf-8' : 'windows-1252').decode(nameBytes),
      method: flags & 1 ? -1 : view.getUint16(at + 10, true),
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
 * Bytes from a member's local header (its first 30 bytes in `header`) to its content; null where
 * there is no such header.
 */
export function localHeaderLength(header: DataView): number | null {
  if (header.byteLength < LOCAL_HEADER_BYTES || header.getUint32(0, true) !== LOCAL_SIGNATURE) {
    return null;
  }
  return LOCAL_HEADER_BYTES + header.getUint16(26, true) + header.getUint16(28, true);
}

/** Whether a path would lead out of the folder that it is unpacked into. */
export function leadsOut(path: string): boolean {
  return /^[\\/]|^[a-z]:|(^|[\\/])\.\.([\\/]|$)/i.test(path) || path.includes('\0');
}
