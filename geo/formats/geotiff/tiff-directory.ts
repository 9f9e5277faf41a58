import type { ByteSource } from '../byte-source.ts';
import { HeaderBytes } from './header-bytes.ts';
import { damaged, TiffError } from './tiff-error.ts';

/**
 * The directories of a TIFF or BigTIFF file in either byte order (TIFF 6.0 section 2; BigTIFF as in
 * libtiff's specification). Our own and not the geotiff package's: that one (3.0.5) reads long
 * arrays of big-endian files as little-endian, and allocates by a claimed count before it looks at
 * the size of the file.
 */

interface Entry {
  readonly type: number;
  readonly count: number;
  /** Where the values stand in the file. */
  readonly at: number;
}

export interface Directory {
  readonly offset: number;
  readonly entries: ReadonlyMap<number, Entry>;
}

export interface TiffFile {
  readonly bytes: HeaderBytes;
  readonly littleEndian: boolean;
  readonly directories: readonly Directory[];
}

/** Bytes per value by TIFF field type; 0 where there is no such type. */
const TYPE_SIZE = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8];
const MOST_ENTRIES = 4096;
const MOST_DIRECTORIES = 1024;

export async function openTiff(source: ByteSource): Promise<TiffFile> {
  const bytes = new HeaderBytes(source);
  const notTiff = (saw: string) =>
    new TiffError(
      'not-a-tiff',
      `This is not a TIFF file (${saw}).`,
      'Open a GeoTIFF (.tif); other formats must be saved as GeoTIFF first.',
    );
  if (source.size < 8) throw notTiff(`it has ${source.size} bytes`);
  const head = await bytes.view(0, 8, 'its header');
  const order = head.getUint16(0, false);
  if (order !== 0x4949 && order !== 0x4d4d) throw notTiff('its first two letters are not II or MM');
  const littleEndian = order === 0x4949;
  const version = head.getUint16(2, littleEndian);
  if (version !== 42 && version !== 43) throw notTiff(`its version number is ${version}`);
  const big = version === 43;
  if (big && head.getUint16(4, littleEndian) !== 8) throw notTiff('its offsets are not 8 bytes');

  const directories: Directory[] = [];
  const seen = new Set<number>();
  let next = big
    ? readLong(await bytes.view(8, 8, 'its first directory address'), 0, littleEndian)
    : head.getUint32(4, littleEndian);
  while (next !== 0) {
    if (seen.has(next)) throw damaged('The directories of the file point back at themselves.');
    if (directories.length === MOST_DIRECTORIES) {
      throw damaged(`The file has more than ${MOST_DIRECTORIES} directories.`);
    }
    seen.add(next);
    const read = await readDirectory(bytes, next, littleEndian, big);
    directories.push(read.directory);
    next = read.next;
  }
  if (directories.length === 0) throw damaged('The file holds no picture at all.');
  return { bytes, littleEndian, directories };
}

async function readDirectory(
  bytes: HeaderBytes,
  offset: number,
  littleEndian: boolean,
  big: boolean,
): Promise<{ directory: Directory; next: number }> {
  const countSize = big ? 8 : 2;
  const head = await bytes.view(offset, countSize, 'a directory');
  const count = big ? readLong(head, 0, littleEndian) : head.getUint16(0, littleEndian);
  if (count === 0 || count > MOST_ENTRIES) throw damaged(`A directory claims ${count} entries.`);
  const entrySize = big ? 20 : 12;
  const inlineSize = big ? 8 : 4;
  const view = await bytes.view(
    offset + countSize,
    count * entrySize + inlineSize,
    'the end of a directory',
  );
  const entries = new Map<number, Entry>();
  for (let i = 0; i < count; i++) {
    const at = i * entrySize;
    const type = view.getUint16(at + 2, littleEndian);
    const size = TYPE_SIZE[type] ?? 0;
    if (size === 0) continue; // TIFF 6.0: readers skip fields of a type they do not know.
    const values = big
      ? readLong(view, at + 4, littleEndian)
      : view.getUint32(at + 4, littleEndian);
    const inline = at + entrySize - inlineSize;
    const address =
      values * size <= inlineSize
        ? offset + countSize + inline
        : big
          ? readLong(view, inline, littleEndian)
          : view.getUint32(inline, littleEndian);
    const tag = view.getUint16(at, littleEndian);
    if (!entries.has(tag)) entries.set(tag, { type, count: values, at: address });
  }
  const end = count * entrySize;
  const next = big ? readLong(view, end, littleEndian) : view.getUint32(end, littleEndian);
  return { directory: { offset, entries }, next };
}

/** Values of a numeric tag, all or a part of them; undefined where the tag is not there. */
export async function tagNumbers(
  file: TiffFile,
  directory: Directory,
  tag: number,
  first = 0,
  count?: number,
): Promise<Float64Array | undefined> {
  const entry = directory.entries.get(tag);
  if (!entry || entry.type === 2) return undefined;
  const size = TYPE_SIZE[entry.type];
  const wanted = count ?? entry.count - first;
  if (first + wanted > entry.count) {
    throw damaged(`Tag ${tag} has ${entry.count} values where ${first + wanted} are needed.`);
  }
  const view = await file.bytes.view(
    entry.at + first * size,
    wanted * size,
    `the values of tag ${tag}`,
  );
  const out = new Float64Array(wanted);
  for (let i = 0; i < wanted; i++)
    out[i] = readValue(view, i * size, entry.type, file.littleEndian);
  return out;
}

export async function tagNumber(
  file: TiffFile,
  directory: Directory,
  tag: number,
): Promise<number | undefined> {
  const entry = directory.entries.get(tag);
  if (!entry || entry.count === 0) return undefined;
  return (await tagNumbers(file, directory, tag, 0, 1))?.[0];
}

/** Raw bytes of a tag, a copy. */
export async function tagBytes(
  file: TiffFile,
  directory: Directory,
  tag: number,
): Promise<Uint8Array | undefined> {
  const entry = directory.entries.get(tag);
  if (!entry) return undefined;
  const length = entry.count * TYPE_SIZE[entry.type];
  const view = await file.bytes.view(entry.at, length, `the values of tag ${tag}`);
  return new Uint8Array(view.buffer, view.byteOffset, length).slice();
}

/** Text of a tag without its closing zero; undefined where the tag is not there. */
export async function tagText(
  file: TiffFile,
  directory: Directory,
  tag: number,
): Promise<string | undefined> {
  const bytes = await tagBytes(file, directory, tag);
  return bytes && new TextDecoder().decode(bytes).replace(/\0+$/, '');
}

function readValue(view: DataView, at: number, type: number, littleEndian: boolean): number {
  switch (type) {
    case 3:
      return view.getUint16(at, littleEndian);
    case 4:
    case 13:
      return view.getUint32(at, littleEndian);
    case 5:
      return view.getUint32(at, littleEndian) / view.getUint32(at + 4, littleEndian);
    case 6:
      return view.getInt8(at);
    case 8:
      return view.getInt16(at, littleEndian);
    case 9:
      return view.getInt32(at, littleEndian);
    case 10:
      return view.getInt32(at, littleEndian) / view.getInt32(at + 4, littleEndian);
    case 11:
      return view.getFloat32(at, littleEndian);
    case 12:
      return view.getFloat64(at, littleEndian);
    case 16:
    case 18:
      return readLong(view, at, littleEndian);
    case 17:
      return Number(view.getBigInt64(at, littleEndian));
    default:
      return view.getUint8(at);
  }
}

function readLong(view: DataView, at: number, littleEndian: boolean): number {
  const high = view.getUint32(at + (littleEndian ? 4 : 0), littleEndian);
  const low = view.getUint32(at + (littleEndian ? 0 : 4), littleEndian);
  return high * 2 ** 32 + low;
}
