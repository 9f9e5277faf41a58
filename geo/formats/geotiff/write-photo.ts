import { zlibSync } from 'fflate';
import { crsFromProj } from '../../frame/crs-from-proj.ts';
import type { FrameDefinition, HorizontalCrs } from '../../frame/crs-types.ts';
import { metersPerUnit } from '../../frame/units.ts';
import type { PhotoRecord } from '../../raster/photo-record.ts';
import type { Work } from '../../work.ts';
import { layOutTiff, type WriteTag } from './tiff-writer.ts';
import { pictureKeyTags } from './write-geo-keys.ts';

const TILE = 256;
const BANDS = 4;
const DEFLATE = 8;
const HORIZONTAL_PREDICTOR = 2;
const RGB = 2;
const UNASSOCIATED_ALPHA = 2;

/**
 * An aerial photo as GeoTIFF: 8-bit red, green, blue and alpha side by side, tiles of 256, deflate
 * with the horizontal predictor (TIFF 6.0 sections 14 and 18), in the photo's own coordinate system.
 * Nothing is lost: read back it gives the same pixels; same photo, same bytes.
 * @param pixels RGBA, row-major, row 0 north, `record.width` × `record.height`
 * Throws RangeError for another number of pixels, for a system that GeoTIFF has no keys for, and
 * past 4 GB.
 */
export function* writePhoto(record: PhotoRecord, pixels: Uint8ClampedArray): Work<Uint8Array> {
  const { width, height } = record;
  if (pixels.length !== BANDS * width * height) {
    throw new RangeError(`${pixels.length} bytes for ${width} × ${height} pixels`);
  }
  const across = Math.ceil(width / TILE);
  const down = Math.ceil(height / TILE);
  const raw = new Uint8Array(TILE * TILE * BANDS);
  const blocks: Uint8Array[] = [];
  for (let tileRow = 0; tileRow < down; tileRow++) {
    for (let tileColumn = 0; tileColumn < across; tileColumn++) {
      const inside = Math.min(TILE, width - tileColumn * TILE);
      for (let y = 0; y < TILE; y++) {
        // Past the edge the last row is repeated; columns there stay at no difference.
        const row = Math.min(height - 1, tileRow * TILE + y);
        const from = (row * width + tileColumn * TILE) * BANDS;
        predictRow(pixels, from, inside, raw, y * TILE * BANDS);
      }
      blocks.push(zlibSync(raw, { level: 6 }));
      yield { share: blocks.length / (across * down), doing: 'Packing the photo' };
    }
  }
  return layOutTiff(tagsOf(record), blocks);
}

/** Each sample as its difference from the pixel before; the rest of the tile's row as no change. */
function predictRow(
  pixels: Uint8ClampedArray,
  from: number,
  count: number,
  out: Uint8Array,
  at: number,
): void {
  for (let k = 0; k < BANDS; k++) out[at + k] = pixels[from + k];
  for (let i = BANDS; i < count * BANDS; i++)
    out[at + i] = pixels[from + i] - pixels[from + i - BANDS];
  out.fill(0, at + count * BANDS, at + TILE * BANDS);
}

function tagsOf(record: PhotoRecord): WriteTag[] {
  const { crs, unitsEast, unitsNorth } = systemOf(record);
  const keys = pictureKeyTags(crs);
  const short = (tag: number, ...values: number[]): WriteTag => ({ tag, type: 'short', values });
  const long = (tag: number, ...values: number[]): WriteTag => ({ tag, type: 'long', values });
  const double = (tag: number, ...values: number[]): WriteTag => ({ tag, type: 'double', values });
  const tags = [
    long(256, record.width),
    long(257, record.height),
    short(258, 8, 8, 8, 8),
    short(259, DEFLATE),
    short(262, RGB),
    short(277, BANDS),
    short(284, 1),
    short(317, HORIZONTAL_PREDICTOR),
    short(322, TILE),
    short(323, TILE),
    short(338, UNASSOCIATED_ALPHA),
    double(33550, record.cellWidth * unitsEast, record.cellHeight * unitsNorth, 0),
    double(33922, 0, 0, 0, record.west * unitsEast, record.north * unitsNorth, 0),
    short(34735, ...keys.directory),
  ];
  if (keys.doubles.length > 0) tags.push(double(34736, ...keys.doubles));
  if (keys.ascii) tags.push({ tag: 34737, type: 'ascii', values: keys.ascii });
  return tags;
}

/**
 * The photo's system and what turns its plane's metres into units of that system. A projection in
 * feet that has no code is written in metres: the same plane, scaled.
 */
function systemOf({ plane }: PhotoRecord): {
  crs: FrameDefinition & Pick<HorizontalCrs, 'kind' | 'unit'>;
  unitsEast: number;
  unitsNorth: number;
} {
  const unitsEast = 1 / plane.metersPerUnitEast;
  const unitsNorth = 1 / plane.metersPerUnitNorth;
  const known = crsFromProj(plane.proj);
  if (known) return { crs: known, unitsEast, unitsNorth };
  const unit = /\+units=us-ft\b/.test(plane.proj)
    ? 'us-survey-foot'
    : /\+units=ft\b/.test(plane.proj)
      ? 'international-foot'
      : 'metre';
  const scale = metersPerUnit(unit);
  return {
    crs: {
      epsg: null,
      name: 'Photo projection',
      kind: 'projected',
      datum: /WGS84/.test(plane.proj) ? 'WGS84' : 'NAD83',
      unit: 'metre',
      proj: plane.proj.replace(/\+units=\S+/, '+units=m'),
    },
    unitsEast: unitsEast * scale,
    unitsNorth: unitsNorth * scale,
  };
}
