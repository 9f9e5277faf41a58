import { zlibSync } from 'fflate';
import type { VerticalDatum } from '../../frame/crs-types.ts';
import type { Grid } from '../../raster/grid.ts';
import type { Work } from '../../work.ts';
import { predictFloatRow } from './apply-predictor.ts';
import { layOutTiff, type WriteTag } from './tiff-writer.ts';
import { geoKeyTags } from './write-geo-keys.ts';

export interface WriteChoices {
  /** What the heights are measured from; they are always metres. */
  readonly vertical: VerticalDatum;
  /** Date of the survey, `YYYY-MM-DD`, for the date tag; left out if null. */
  readonly surveyedOn?: string | null;
}

const TILE = 256;
const DEFLATE = 8;
const FLOAT_PREDICTOR = 3;

/**
 * A grid as GeoTIFF: float32, tiles of 256, deflate with the floating-point predictor, EPSG code or
 * written-out projection, vertical system and unit, no data as NaN. Read back it gives the same
 * numbers bit for bit; same grid, same bytes. Throws RangeError past 4 GB.
 */
export function* writeGeoTiff(grid: Grid, choices: WriteChoices): Work<Uint8Array> {
  const { width, height } = grid;
  const across = Math.ceil(width / TILE);
  const down = Math.ceil(height / TILE);
  const words = new Uint32Array(grid.data.buffer, grid.data.byteOffset, grid.data.length);
  const raw = new Uint8Array(TILE * TILE * 4);
  const row = new Uint32Array(TILE);
  const blocks: Uint8Array[] = [];
  for (let tileRow = 0; tileRow < down; tileRow++) {
    for (let tileColumn = 0; tileColumn < across; tileColumn++) {
      for (let y = 0; y < TILE; y++) {
        // Past the edge the last row and column are repeated, which packs best and is never read.
        const from = Math.min(height - 1, tileRow * TILE + y) * width + tileColumn * TILE;
        const inside = Math.min(TILE, width - tileColumn * TILE);
        row.set(words.subarray(from, from + inside));
        row.fill(row[inside - 1]!, inside);
        predictFloatRow(row, 0, TILE, raw, y * TILE * 4);
      }
      blocks.push(zlibSync(raw, { level: 6 }));
      // A tile takes about 10 ms; a row of them would hold its thread for a tenth of a second.
      yield { share: blocks.length / (across * down), doing: 'Packing the ground' };
    }
  }
  return layOutTiff(tagsOf(grid, choices), blocks);
}

function tagsOf(grid: Grid, choices: WriteChoices): WriteTag[] {
  const keys = geoKeyTags(grid.frame, choices.vertical);
  const short = (tag: number, ...values: number[]): WriteTag => ({ tag, type: 'short', values });
  const long = (tag: number, ...values: number[]): WriteTag => ({ tag, type: 'long', values });
  const double = (tag: number, ...values: number[]): WriteTag => ({ tag, type: 'double', values });
  const tags = [
    long(256, grid.width),
    long(257, grid.height),
    short(258, 32),
    short(259, DEFLATE),
    short(262, 1),
    short(277, 1),
    short(284, 1),
    short(317, FLOAT_PREDICTOR),
    short(322, TILE),
    short(323, TILE),
    short(339, 3),
    double(33550, grid.cellWidth, grid.cellHeight, 0),
    double(33922, 0, 0, 0, grid.west, grid.north, 0),
    short(34735, ...keys.directory),
  ];
  if (keys.doubles.length > 0) tags.push(double(34736, ...keys.doubles));
  if (keys.ascii) tags.push({ tag: 34737, type: 'ascii', values: keys.ascii });
  tags.push({ tag: 42113, type: 'ascii', values: 'nan' });
  const date = /^(\d{4})-(\d\d)-(\d\d)$/.exec(choices.surveyedOn ?? '');
  if (date) {
    const values = `${date[1]}:${date[2]}:${date[3]} 00:00:00`;
    tags.push({ tag: 306, type: 'ascii', values });
  }
  return tags;
}
