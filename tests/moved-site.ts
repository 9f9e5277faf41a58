import { memorySource } from '../geo/formats/byte-source.ts';
import { openGround } from '../geo/formats/open-ground.ts';
import { openFrame } from '../geo/frame/open-frame.ts';
import type { GroundInUse } from '../geo/answers/definition.ts';
import type { Position } from '../geo/plan/feature.ts';
import type { Grid } from '../geo/raster/grid.ts';
import { groundOf, offsetFrom } from './answers-rig.ts';
import type { Gdal } from './gdal.ts';

/**
 * One physical site laid anywhere on the earth: its ground is a smooth function of metres east and
 * north of its middle, measured along geodesics. Any grid of any system samples that function at
 * its own cell centres, so true bearings, distances and heights stay and only the frame changes.
 * Places come from GDAL's projections, not from the frames under test.
 */
export type GroundShape = (east: number, north: number) => number;

/** The cubic through four neighbours on a lattice (Catmull-Rom): goes through every cell centre. */
function cubic(a: number, b: number, c: number, d: number, t: number): number {
  return b + (t / 2) * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
}

/**
 * The ground of a grid in a frame without convergence, as a function of metres on the ground round
 * the grid's middle: `frameMetersPerMeter` is the frame's scale there. NaN beyond its centres.
 */
export function shapeOf(grid: Grid, frameMetersPerMeter: number): GroundShape {
  const { data, width, height } = grid;
  const rows = new Float64Array(4);
  return (east, north) => {
    const across = width / 2 - 0.5 + (east * frameMetersPerMeter) / grid.cellWidth;
    const down = height / 2 - 0.5 - (north * frameMetersPerMeter) / grid.cellHeight;
    const column = Math.floor(across);
    const row = Math.floor(down);
    if (!(column >= 1 && row >= 1 && column < width - 2 && row < height - 2)) return NaN;
    for (let k = 0; k < 4; k++) {
      const i = (row - 1 + k) * width + column - 1;
      rows[k] = cubic(data[i]!, data[i + 1]!, data[i + 2]!, data[i + 3]!, across - column);
    }
    return cubic(rows[0]!, rows[1]!, rows[2]!, rows[3]!, down - row);
  };
}

export interface Move {
  /** Code of the system of the file, as GDAL is to write it, heights included. */
  readonly system: string;
  /** Code of its horizontal part. */
  readonly epsg: number;
  readonly centre: Position;
  /** Cell size and grid size in the file's own unit and cells. */
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  /** Height units in a metre. */
  readonly unitsPerMeter: number;
}

/** Every this many cells a place is worked out exactly; bilinear between, within 0.03 mm. */
const LATTICE = 30;

/** The site as a GeoTIFF that GDAL wrote in another system, opened by the product. */
export async function moveSite(gdal: Gdal, shape: GroundShape, move: Move): Promise<GroundInUse> {
  const { epsg, centre, cell, columns, rows, unitsPerMeter } = move;
  const toPlane = (points: readonly Position[]) =>
    gdal.transform(points, '+proj=longlat +datum=NAD83', `EPSG:${epsg}`);
  const [[middleX, middleY]] = (await toPlane([centre])) as [[number, number]];
  // Off any round number, as real surveys are.
  const west = middleX - (columns / 2) * cell + 0.37 * cell;
  const north = middleY + (rows / 2) * cell + 0.21 * cell;
  const across = Math.ceil(columns / LATTICE) + 1;
  const down = Math.ceil(rows / LATTICE) + 1;
  const nodes = Array.from({ length: across * down }, (_, i): [number, number] => [
    west + ((i % across) * LATTICE + 0.5) * cell,
    north - (Math.floor(i / across) * LATTICE + 0.5) * cell,
  ]);
  const lngLat = await gdal.transform(nodes, `EPSG:${epsg}`, '+proj=longlat +datum=NAD83');
  const offsets = lngLat.map((at) => offsetFrom(centre, at));
  const data = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    const nodeRow = Math.floor(row / LATTICE);
    const v = row / LATTICE - nodeRow;
    for (let column = 0; column < columns; column++) {
      const nodeColumn = Math.floor(column / LATTICE);
      const u = column / LATTICE - nodeColumn;
      const i = nodeRow * across + nodeColumn;
      const mix = (k: 0 | 1) =>
        (offsets[i]![k] * (1 - u) + offsets[i + 1]![k] * u) * (1 - v) +
        (offsets[i + across]![k] * (1 - u) + offsets[i + across + 1]![k] * u) * v;
      const z = shape(mix(0), mix(1)) * unitsPerMeter;
      data[row * columns + column] = Number.isNaN(z) ? -9999 : z;
    }
  }
  const bytes = await writtenByGdal(gdal, data, move, west, north);
  const opening = await openGround([memorySource(`moved-${epsg}.tif`, bytes)]);
  if (opening.kind !== 'opened') throw new Error(JSON.stringify(opening));
  const { grid, draft } = opening;
  return groundOf(grid, openFrame(grid.frame), {
    ...draft,
    surveyedOn: '2024-03-19',
    clearing: 'before-clearing',
    verticalErrorMeters: 0.1,
  });
}

async function writtenByGdal(
  gdal: Gdal,
  data: Float32Array,
  { system, epsg, cell, columns, rows }: Move,
  west: number,
  north: number,
): Promise<Uint8Array> {
  const text =
    `ENVI\nsamples = ${columns}\nlines = ${rows}\nbands = 1\nheader offset = 0\n` +
    'file type = ENVI Standard\ndata type = 4\ninterleave = bsq\nbyte order = 0\n';
  gdal.write(`moved-${epsg}.hdr`, new TextEncoder().encode(text));
  const raw = gdal.write(`moved-${epsg}.bin`, new Uint8Array(data.buffer));
  const corners = [west, north, west + columns * cell, north - rows * cell].map(String);
  const place = ['-a_srs', system, '-a_ullr', ...corners, '-a_nodata', '-9999'];
  const packing = ['-co', 'COMPRESS=DEFLATE', '-co', 'PREDICTOR=3', '-co', 'TILED=YES'];
  const made = await gdal.run(
    'gdal_translate',
    raw,
    [...place, '-of', 'GTiff', ...packing],
    `moved-${epsg}.tif`,
  );
  return gdal.read(made).slice();
}
