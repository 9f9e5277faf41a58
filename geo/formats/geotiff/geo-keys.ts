import type { GeoKeys } from '../../frame/geo-keys.ts';
import { TAG } from './tiff-tags.ts';
import { tagNumbers, tagText, type Directory, type TiffFile } from './tiff-directory.ts';

export const RASTER_TYPE_KEY = 1025;
export const PIXEL_IS_POINT = 2;

/**
 * The GeoKey directory of an image (OGC 19-008r4 section 7.1): four numbers per key, the value in
 * place or in the double or ASCII tag. A key whose value lies outside its tag is left out.
 */
export async function readGeoKeys(file: TiffFile, directory: Directory): Promise<GeoKeys> {
  const keys = new Map<number, number | string | readonly number[]>();
  const table = await tagNumbers(file, directory, TAG.GeoKeyDirectory);
  if (!table || table.length < 4) return keys;
  const doubles = await tagNumbers(file, directory, TAG.GeoDoubleParams);
  const ascii = await tagText(file, directory, TAG.GeoAsciiParams);
  const count = Math.min(table[3], Math.floor(table.length / 4) - 1);
  for (let i = 1; i <= count; i++) {
    const [key, place, length, at] = table.subarray(4 * i, 4 * i + 4);
    if (place === 0) keys.set(key, at);
    else if (place === TAG.GeoAsciiParams && ascii !== undefined && at < ascii.length) {
      keys.set(key, ascii.slice(at, at + length).replace(/[|\0]+$/, ''));
    } else {
      const from = place === TAG.GeoDoubleParams ? doubles : undefined;
      const numbers = (place === TAG.GeoKeyDirectory ? table : from)?.subarray(at, at + length);
      if (!numbers || numbers.length !== length || length === 0) continue;
      keys.set(key, length === 1 ? numbers[0] : [...numbers]);
    }
  }
  return keys;
}
