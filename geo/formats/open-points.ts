import { crsFromEpsg, extentProblem } from '../frame/crs.ts';
import type { HorizontalCrs } from '../frame/crs-types.ts';
import { frameFor, openCrs, openFrame } from '../frame/open-frame.ts';
import { metersPerUnit } from '../frame/units.ts';
import { gridPoints, LONGEST_SIDE_IN_SPACINGS, type GriddedPoints } from '../raster/grid-points.ts';
import { isOnEarth } from '../raster/is-on-earth.ts';
import { makeGrid } from '../raster/make-grid.ts';
import type { Points } from '../raster/merge-points.ts';
import { findLattice, placeOnLattice } from '../raster/point-lattice.ts';
import { ok, type Problem, type Result } from '../result.ts';
import { MOST_CELLS } from './geotiff/read-elevation.ts';
import { draftOf } from './ground-draft.ts';
import { latticeTile, placeFromText, type GroundTile } from './ground-tile.ts';
import { guessColumns, unitInName } from './guess-columns.ts';
import { openTiles } from './open-tiles.ts';
import { refused, type GroundChoices, type OpenedGround, type Reading } from './opening.ts';
import type { TableShape } from './csv.ts';
import type { PointColumns, PointPreview } from './point-columns.ts';
import { openPoints, readPoints, type PointSet } from './points.ts';
import { runWork } from './run-work.ts';
import type { FileSet } from './sidecars.ts';
import { systemOf, verticalOf } from './stated-place.ts';

interface PointFile {
  readonly set: FileSet;
  readonly shape: TableShape;
  readonly preview: PointPreview;
  readonly columns: PointColumns;
  readonly about: Pick<GroundTile, 'name' | 'crs' | 'vertical' | 'beside'>;
  readonly notes: string[];
}

type ReadFile = PointFile & { readonly points: PointSet };

/**
 * Opens tables of points: a regular grid of points is placed as the raster it is (several such files
 * are tiles of one survey), scattered shots are joined into triangles. Coordinate system and height
 * unit are taken from the file or asked, with the guess of the columns beside the question.
 */
export async function openPointFiles(
  sets: readonly FileSet[],
  choices: GroundChoices,
  reading: Reading,
): Promise<OpenedGround> {
  const described: PointFile[] = [];
  for (const set of sets) {
    const file = await describe(set, choices);
    if (!file.ok) return refused(file.problem);
    described.push(file.value);
  }
  const first = described[0]!;
  const crs = systemOf(first.about, choices);
  if ('kind' in crs) return withPreview(crs, first.preview);
  const vertical = verticalOf(
    described.map((file) => file.about),
    choices,
  );
  if ('kind' in vertical) return withPreview(vertical, first.preview);
  const files: ReadFile[] = [];
  for (const file of described) {
    const { set, shape, columns } = file;
    const points = await readPoints(set.main, shape, columns, reading);
    if (!points.ok) return refused(points.problem);
    const { blankRows } = points.value;
    if (blankRows > 0) file.notes.push(`${blankRows} rows with a blank field were left out.`);
    const turn =
      choices.columns === undefined && shape.names === null && liesTurned(points.value, crs.value);
    if (turn)
      file.notes.push(
        'Easting and northing were exchanged: only so the points lie in North America.',
      );
    files.push({ ...file, points: turn ? turned(points.value) : points.value });
  }

  const tiles = files.map(latticeOf);
  if (tiles.every((tile) => tile !== null)) return openTiles(tiles, choices, reading);

  const metersUp = metersPerUnit(vertical.value.unit!);
  const placed = placePoints(files, crs.value, metersUp);
  if (!placed.ok) return refused(placed.problem);
  const { points, frame } = placed.value;
  const gridded = await runWork(
    gridPoints(points, {
      maxCells: MOST_CELLS,
      ...(choices.cellMeters === undefined ? {} : { cellMeters: choices.cellMeters }),
      longestSideInSpacings: choices.longestSideInSpacings ?? LONGEST_SIDE_IN_SPACINGS,
    }),
    reading,
  );
  if (!gridded.ok) return refused({ where: first.about.name, ...gridded.problem });
  const { width, height, west, north, cellMeters, data } = gridded.value;
  const shape = { width, height, west, north, cellWidth: cellMeters, cellHeight: cellMeters };
  const site = openFrame(frame);
  if (!isOnEarth(shape, site)) return refused(nowhere(crs.value, first.about.name));
  const grid = makeGrid(shape, data, site);
  return {
    kind: 'opened',
    grid,
    draft: draftOf(grid, choices, {
      tiles: files.map(({ about }) => ({ ...about, date: null, stored: 'points' })),
      crsName: crs.value.name,
      vertical: vertical.value,
      sourceCellMeters: gridded.value.spacingMeters,
      notes: [
        ...files.flatMap((file) => file.notes),
        ...vertical.notes,
        ...notesOf(points, gridded.value),
      ],
    }),
  };
}

function withPreview(opening: OpenedGround, points: PointPreview): OpenedGround {
  return opening.kind === 'ask' ? { ...opening, points } : opening;
}

async function describe(set: FileSet, choices: GroundChoices): Promise<Result<PointFile>> {
  const opened = await openPoints(set.main);
  if (!opened.ok) return opened;
  const shape = opened.value;
  const preview = guessColumns(set.main.name, shape);
  if (!preview.ok) return preview;
  const columns = choices.columns ?? preview.value.guess;
  const stated = placeFromText(set.crsText);
  const notes: string[] = [];
  if (choices.columns === undefined && shape.names === null) notes.push(preview.value.reason);
  let crs = stated.crs;
  if (columns.degrees && !crs.ok && crs.problem.code === 'crs-missing') {
    crs = crsFromEpsg(4326);
    notes.push('Latitude and longitude were taken as WGS84.');
  }
  const named = shape.names?.[columns.z];
  const unit = stated.vertical.unit ?? (named === undefined ? null : unitInName(named));
  const about = {
    name: set.main.name,
    crs,
    vertical: { ...stated.vertical, unit },
    beside: set.beside,
  };
  return ok({ set, shape, preview: preview.value, columns, about, notes });
}

/** Whether a guessed order of columns puts the middle point off North America, and the other does not. */
function liesTurned(points: PointSet, crs: HorizontalCrs): boolean {
  const middle = points.count >> 1;
  const [x, y] = [points.x[middle]!, points.y[middle]!];
  const { toLngLat } = openCrs(crs);
  const isThere = (a: number, b: number) => {
    try {
      const [lng, lat] = toLngLat(a, b);
      return lng > -180 && lng < -50 && lat > 13 && lat < 84;
    } catch (error) {
      if (error instanceof RangeError) return false;
      throw error;
    }
  };
  return !isThere(x, y) && isThere(y, x);
}

const turned = (points: PointSet): PointSet => ({ ...points, x: points.y, y: points.x });

function latticeOf(file: ReadFile): GroundTile | null {
  const { x, y, z } = file.points;
  const lattice = findLattice(x, y, MOST_CELLS);
  if (!lattice) return null;
  const data = placeOnLattice(x, y, z, lattice);
  return latticeTile(file.about.name, lattice, data, { ...file.about, notes: file.notes });
}

/** All points in metres of one frame. */
function placePoints(
  files: readonly ReadFile[],
  crs: HorizontalCrs,
  metersUp: number,
): Result<{ points: Points; frame: ReturnType<typeof frameFor> }> {
  const count = files.reduce((sum, file) => sum + file.points.count, 0);
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const z = new Float64Array(count);
  let at = 0;
  for (const { points } of files) {
    x.set(points.x, at);
    y.set(points.y, at);
    z.set(points.z, at);
    at += points.count;
  }
  const misplaced = extentProblem(crs, boundsOf(x, y));
  if (misplaced) return { ok: false, problem: { ...misplaced, where: files[0]!.about.name } };
  const own = openCrs(crs);
  try {
    const frame = frameFor(crs, ...own.toLngLat(x[count >> 1]!, y[count >> 1]!));
    const opened = openFrame(frame);
    const metersPerOne =
      crs.kind === 'projected' && crs.unit !== 'degree' ? metersPerUnit(crs.unit) : null;
    for (let i = 0; i < count; i++) {
      if (metersPerOne === null) [x[i], y[i]] = opened.fromLngLat(...own.toLngLat(x[i]!, y[i]!));
      else {
        x[i]! *= metersPerOne;
        y[i]! *= metersPerOne;
      }
      z[i]! *= metersUp;
    }
    return ok({ points: { x, y, z }, frame });
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { ok: false, problem: nowhere(crs, files[0]!.about.name) };
  }
}

function nowhere(crs: HorizontalCrs, where: string): Problem {
  return {
    code: 'points-nowhere',
    what: `The points have no place on the map in ${crs.name}.`,
    wayOut: 'Check which column is easting and which northing, and the coordinate system.',
    where,
  };
}

function boundsOf(x: Float64Array, y: Float64Array) {
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < x.length; i++) {
    west = Math.min(west, x[i]!);
    east = Math.max(east, x[i]!);
    south = Math.min(south, y[i]!);
    north = Math.max(north, y[i]!);
  }
  return { west, east, south, north };
}

function notesOf(points: Points, made: GriddedPoints): string[] {
  const notes = [
    `${points.x.length} points about ${made.spacingMeters.toPrecision(3)} m apart, joined by triangles into cells of ${made.cellMeters} m.`,
  ];
  if (made.merged > 0)
    notes.push(`${made.merged} points shared a place with another and were averaged.`);
  if (made.leftOutShare > 0) {
    notes.push(
      `${(100 * made.leftOutShare).toPrecision(2)} % of the outline was left empty: its points lie too far apart.`,
    );
  }
  return notes;
}
