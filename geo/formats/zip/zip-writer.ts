import { deflateSync } from 'fflate';
import type { Work } from '../../work.ts';
import { crc32 } from './crc32.ts';

const DEFLATED = 8;
const UTF8_NAMES = 0x800;
/** 1 January 2000, midnight, as zips count: the same input gives the same bytes. */
const DOS_DATE = ((2000 - 1980) << 9) | (1 << 5) | 1;
const MOST_BYTES = 0xffffffff;
const SLICE = 1 << 20;

interface Written {
  readonly path: Uint8Array;
  readonly fields: Uint8Array;
  readonly offset: number;
}

/**
 * Writes a zip piece by piece (PKWARE APPNOTE 6.3), so that whoever takes the pieces need never hold
 * all of it. Sizes and checksums stand before each member, which every unpacker understands.
 */
export class ZipWriter {
  #written: Written[] = [];
  #offset = 0;

  /**
   * The pieces of one member, to be put one after the other.
   * @param pack deflates; false for what is packed already
   * Throws RangeError past 4 GB, where a plain zip ends.
   */
  *add(path: string, bytes: Uint8Array, pack: boolean): Work<readonly Uint8Array[]> {
    let crc = 0;
    for (let at = 0; at < bytes.length; at += SLICE) {
      crc = crc32(bytes.subarray(at, at + SLICE), crc);
      yield { share: at / bytes.length, doing: 'Packing' };
    }
    const content = pack ? deflateSync(bytes, { level: 6 }) : bytes;
    const name = new TextEncoder().encode(path);
    // The fields that local header and directory share: from "version needed" on.
    const fields = new Uint8Array(26);
    const view = new DataView(fields.buffer);
    view.setUint16(0, 20, true);
    view.setUint16(2, UTF8_NAMES, true);
    view.setUint16(4, pack ? DEFLATED : 0, true);
    view.setUint16(8, DOS_DATE, true);
    view.setUint32(10, crc, true);
    view.setUint32(14, content.length, true);
    view.setUint32(18, bytes.length, true);
    view.setUint16(22, name.length, true);
    const header = joined(signature(0x04034b50), fields, name);
    this.#written.push({ path: name, fields, offset: this.#offset });
    this.#offset += header.length + content.length;
    if (this.#offset > MOST_BYTES) throw new RangeError(`zip of ${this.#offset} bytes`);
    return [header, content];
  }

  /** The directory and the end record: the last piece. */
  end(): Uint8Array {
    const entries = this.#written.map(({ path, fields, offset }) => {
      const rest = new Uint8Array(14);
      new DataView(rest.buffer).setUint32(10, offset, true);
      return joined(signature(0x02014b50), Uint8Array.of(20, 0), fields, rest, path);
    });
    const directory = joined(...entries);
    const end = new Uint8Array(18);
    const view = new DataView(end.buffer);
    view.setUint16(4, entries.length, true);
    view.setUint16(6, entries.length, true);
    view.setUint32(8, directory.length, true);
    view.setUint32(12, this.#offset, true);
    return joined(directory, signature(0x06054b50), end);
  }
}

function signature(value: number): Uint8Array {
  const bytes = new Uint8Array(4);
  new DataView(bytes.buffer).setUint32(0, value, true);
  return bytes;
}

function joined(...parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
