/** One tag of a directory that is being written. */
export interface WriteTag {
  readonly tag: number;
  readonly type: 'ascii' | 'short' | 'long' | 'double';
  readonly values: readonly number[] | string;
}

const TYPE_CODE = { ascii: 2, short: 3, long: 4, double: 12 } as const;
const TYPE_SIZE = { ascii: 1, short: 2, long: 4, double: 8 } as const;

/** 324 and 325 are filled in here; `blocks` are the packed tiles in order. */
const TILE_OFFSETS = 324;
const TILE_BYTE_COUNTS = 325;

/**
 * Lays out a little-endian classic TIFF (TIFF 6.0 section 2): header, directory, long values, tiles.
 * The directory comes first, so that a reader over a network needs one request for it.
 *
 * @param tags in rising order of their number, without the tiles' own two
 * @throws RangeError past 4 GB, where classic TIFF ends
 */
export function layOutTiff(tags: readonly WriteTag[], blocks: readonly Uint8Array[]): Uint8Array {
  const counts = blocks.map((b) => b.byteLength);
  const withTiles: WriteTag[] = [
    ...tags,
    { tag: TILE_OFFSETS, type: 'long' as const, values: counts },
    { tag: TILE_BYTE_COUNTS, type: 'long' as const, values: counts },
  ].toSorted((a, b) => a.tag - b.tag);
  const directoryAt = 8;
  let free = directoryAt + 2 + withTiles.length * 12 + 4;
  const places = withTiles.map((tag) => {
    const bytes = countOf(tag) * TYPE_SIZE[tag.type];
    if (bytes <= 4) return 0;
    const at = (free + 7) & ~7;
    free = at + bytes;
    return at;
  });
  let next = (free + 15) & ~15;
  const offsets = blocks.map((block) => {
    const at = next;
    next += (block.byteLength + 1) & ~1;
    return at;
  });
  if (next > 0xffffffff) throw new RangeError(`TIFF of ${next} bytes`);
  const out = new Uint8Array(next);
  const view = new DataView(out.buffer);
  view.setUint16(0, 0x4949, false);
  view.setUint16(2, 42, true);
  view.setUint32(4, directoryAt, true);
  view.setUint16(directoryAt, withTiles.length, true);
  withTiles.forEach((tag, i) => {
    const entry = directoryAt + 2 + 12 * i;
    view.setUint16(entry, tag.tag, true);
    view.setUint16(entry + 2, TYPE_CODE[tag.type], true);
    view.setUint32(entry + 4, countOf(tag), true);
    if (places[i]! > 0) view.setUint32(entry + 8, places[i]!, true);
    const values = tag.tag === TILE_OFFSETS ? offsets : tag.values;
    writeValues(view, places[i]! || entry + 8, tag.type, values);
  });
  blocks.forEach((block, i) => out.set(block, offsets[i]));
  return out;
}

function countOf(tag: WriteTag): number {
  return typeof tag.values === 'string' ? tag.values.length + 1 : tag.values.length;
}

function writeValues(
  view: DataView,
  at: number,
  type: WriteTag['type'],
  values: readonly number[] | string,
): void {
  if (typeof values === 'string') {
    for (let i = 0; i < values.length; i++) view.setUint8(at + i, values.charCodeAt(i));
    return;
  }
  values.forEach((value, i) => {
    if (type === 'short') view.setUint16(at + 2 * i, value, true);
    else if (type === 'long') view.setUint32(at + 4 * i, value, true);
    else view.setFloat64(at + 8 * i, value, true);
  });
}
