import type { CellField } from '../raster/cell-window.ts';
import type { Grid } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { eyeOn, type Eye, type Lookout } from './lookout.ts';

/**
 * What `viewshed` says, many times faster and a little coarser: the line of sight over a cell is
 * taken from the lines over the two cells before it, not from all the ground between (XDraw,
 * Franklin & Ray 1994), row by row outwards from the eye. For whole maps; over the range of a
 * stand the exact one is fast enough. Same units, window, no-data rule and errors as `viewshed`;
 * `out` holds the cells of that window. How often the two differ: tests/README.md.
 */
export function* viewshedFast(
  ground: Grid,
  lookout: Lookout,
  out?: Float32Array,
): Work<CellField | null> {
  const eye = eyeOn(ground, lookout);
  if (eye === null) return null;
  const { window: w } = eye;
  const cells = w.width * w.height;
  if (out !== undefined && out.length !== cells) {
    throw new RangeError(`out holds ${out.length} cells, not ${cells}`);
  }
  const sweep = openSweep(ground, eye, lookout.radiusMeters, out ?? new Float32Array(cells));
  const band = rowsPerBand(w.width);
  let done = 0;
  for (const way of [1, -1]) {
    const rows = way > 0 ? w.row + w.height - eye.row : eye.row - w.row + 1;
    // The eye's own row is swept for both ways: each starts from its lines of sight.
    for (let away = 0; away < rows; away++) {
      sweepRow(sweep, way, away);
      if (++done % band === 0) yield { share: done / (w.height + 1), doing: 'looking round' };
    }
  }
  return { data: sweep.seenFrom, window: w };
}

interface Sweep {
  readonly ground: Grid;
  readonly eye: Eye;
  readonly radius: number;
  readonly seenFrom: Float32Array;
  /** By column of the window: the line of sight over the last row and this one, metres over the eye. */
  readonly lines: [Float64Array, Float64Array];
  /** 1 / (n - 1) by number of cells n from the eye. */
  readonly perStep: Float64Array;
}

function openSweep(ground: Grid, eye: Eye, radius: number, seenFrom: Float32Array): Sweep {
  const { width, height } = eye.window;
  const perStep = new Float64Array(Math.max(width, height) + 1);
  for (let n = 2; n < perStep.length; n++) perStep[n] = 1 / (n - 1);
  const lines: Sweep['lines'] = [new Float64Array(width), new Float64Array(width)];
  return { ground, eye, radius, seenFrom, lines, perStep };
}

/** Row `away` rows south (`way` 1) or north (-1) of the eye, from the middle to both ends. */
function sweepRow(sweep: Sweep, way: number, away: number): void {
  const { eye, ground, radius, seenFrom, lines } = sweep;
  const { window: w } = eye;
  const row = eye.row + way * away;
  const middle = eye.column - w.column;
  const from = (row - w.row) * w.width;
  const side = Math.sqrt(radius * radius - (away * ground.cellHeight) ** 2);
  const reach = Math.min(w.width, Math.floor(side / ground.cellWidth));
  const last = lines[(away + 1) & 1]!;
  const line = lines[away & 1]!;
  straightCell(sweep, row, away, last, line);
  let done = 0;
  if (away > 1 && eye.screens === null) {
    const both = Math.min(reach, w.width - 1 - middle, middle);
    const isWhole =
      steepBoth(sweep, row, away, Math.min(both, away), last, line) &&
      shallowBoth(sweep, row, away, both, last, line);
    if (isWhole) done = both;
  }
  for (const sideways of [1, -1]) {
    const ends = Math.min(reach, sideways > 0 ? w.width - 1 - middle : middle);
    if (ends === done) continue;
    steepPart(sweep, row, away, sideways, done + 1, Math.min(ends, away), last, line);
    shallowPart(sweep, row, away, sideways, Math.max(done, away) + 1, ends, last, line);
  }
  seenFrom.fill(NaN, from, from + Math.max(0, middle - reach));
  seenFrom.fill(NaN, from + Math.min(w.width, middle + reach + 1), from + w.width);
}

/** The cell due north or south of the eye; on the eye's own row, the eye's own cell. */
function straightCell(
  { eye, ground, seenFrom, perStep }: Sweep,
  row: number,
  away: number,
  last: Float64Array,
  line: Float64Array,
): void {
  const { window: w, screens } = eye;
  const middle = eye.column - w.column;
  const cell = row * ground.width + eye.column;
  const at = (row - w.row) * w.width + middle;
  if (away === 0) {
    seenFrom[at] = 0;
    line[middle] = -Infinity;
    return;
  }
  const south = away * ground.cellHeight;
  const over = ground.data[cell]! - eye.height - eye.dropPerSquareMeter * south * south;
  const sight = away === 1 ? -Infinity : last[middle]! * away * perStep[away]!;
  const hidden = sight - over;
  seenFrom[at] = hidden < 0 ? 0 : hidden;
  const surface = screens === null ? over : over + (screens[cell]! || 0);
  line[middle] = surface > sight ? surface : sight;
}

/** The cells of a row up to and with the diagonal: their lines come over the row before. */
function steepPart(
  { eye, ground, seenFrom, perStep }: Sweep,
  row: number,
  away: number,
  way: number,
  begin: number,
  ends: number,
  last: Float64Array,
  line: Float64Array,
): void {
  const { window: w, screens, height, dropPerSquareMeter } = eye;
  const { data, cellWidth, cellHeight } = ground;
  const middle = eye.column - w.column;
  const perRow = perStep[away]!;
  const south = dropPerSquareMeter * (away * cellHeight) ** 2;
  const perColumn = dropPerSquareMeter * cellWidth * cellWidth;
  const cells = row * ground.width + eye.column;
  const out = (row - w.row) * w.width + middle;
  for (let n = begin; n <= ends; n++) {
    const column = middle + way * n;
    const cell = cells + way * n;
    // On the diagonal the line is that of the cell before it alone, beside the eye there is none.
    const straight = n < away ? last[column]! * (away - n) : 0;
    const sight = away === 1 ? -Infinity : (straight + last[column - way]! * n) * perRow;
    const over = data[cell]! - height - south - perColumn * n * n;
    const hidden = sight - over;
    seenFrom[out + way * n] = hidden < 0 ? 0 : hidden;
    const surface = screens === null ? over : over + (screens[cell]! || 0);
    line[column] = surface > sight ? surface : sight;
  }
}

/** The cells of a row past the diagonal: their lines come over the column before. */
function shallowPart(
  { eye, ground, seenFrom, perStep }: Sweep,
  row: number,
  away: number,
  way: number,
  begin: number,
  ends: number,
  last: Float64Array,
  line: Float64Array,
): void {
  const { window: w, screens, height, dropPerSquareMeter } = eye;
  const { data, cellWidth, cellHeight } = ground;
  const middle = eye.column - w.column;
  const south = dropPerSquareMeter * (away * cellHeight) ** 2;
  const perColumn = dropPerSquareMeter * cellWidth * cellWidth;
  const cells = row * ground.width + eye.column;
  const out = (row - w.row) * w.width + middle;
  let before = line[middle + way * (begin - 1)]!;
  for (let n = begin; n <= ends; n++) {
    const column = middle + way * n;
    const cell = cells + way * n;
    const across = away === 0 ? 0 : last[column - way]! * away;
    const sight = n === 1 ? -Infinity : (before * (n - away) + across) * perStep[n]!;
    const over = data[cell]! - height - south - perColumn * n * n;
    const hidden = sight - over;
    seenFrom[out + way * n] = hidden < 0 ? 0 : hidden;
    const surface = screens === null ? over : over + (screens[cell]! || 0);
    line[column] = before = surface > sight ? surface : sight;
  }
}

/**
 * `steepPart` to both sides at once, over a row that is whole and without screens: what is hidden is
 * the greater of 0 and `sight - over` without a branch, which rough ground would have guessed wrong.
 * False where a cell has no data: then nothing it wrote holds.
 */
function steepBoth(
  { eye, ground, seenFrom, perStep }: Sweep,
  row: number,
  away: number,
  ends: number,
  last: Float64Array,
  line: Float64Array,
): boolean {
  const { window: w, height, dropPerSquareMeter } = eye;
  const { data, cellWidth, cellHeight } = ground;
  const middle = eye.column - w.column;
  const perRow = perStep[away]!;
  const base = height + dropPerSquareMeter * (away * cellHeight) ** 2;
  const perColumn = dropPerSquareMeter * cellWidth * cellWidth;
  const cell = row * ground.width + eye.column;
  const out = (row - w.row) * w.width + middle;
  let eastBefore = last[middle]!;
  let westBefore = eastBefore;
  for (let n = 1; n <= ends; n++) {
    // On the diagonal 0.
    const straight = (away - n) * perRow;
    const across = n * perRow;
    const drop = base + perColumn * n * n;
    const east = last[middle + n]!;
    const eastOver = data[cell + n]! - drop;
    const eastLess = east * straight + eastBefore * across - eastOver;
    const eastHidden = (eastLess + Math.abs(eastLess)) * 0.5;
    seenFrom[out + n] = eastHidden;
    const eastLine = eastOver + eastHidden;
    line[middle + n] = eastLine;
    eastBefore = east;
    const west = last[middle - n]!;
    const westOver = data[cell - n]! - drop;
    const westLess = west * straight + westBefore * across - westOver;
    const westHidden = (westLess + Math.abs(westLess)) * 0.5;
    seenFrom[out - n] = westHidden;
    const westLine = westOver + westHidden;
    line[middle - n] = westLine;
    westBefore = west;
    if (eastLine !== eastLine || westLine !== westLine) return false;
  }
  return true;
}

/**
 * `shallowPart` to both sides at once, as `steepBoth`: reckoned in halves, so that a cell waits shortest
 * for the one before it.
 */
function shallowBoth(
  { eye, ground, seenFrom, perStep }: Sweep,
  row: number,
  away: number,
  ends: number,
  last: Float64Array,
  line: Float64Array,
): boolean {
  const { window: w, height, dropPerSquareMeter } = eye;
  const { data, cellWidth, cellHeight } = ground;
  const middle = eye.column - w.column;
  const base = height + dropPerSquareMeter * (away * cellHeight) ** 2;
  const perColumn = dropPerSquareMeter * cellWidth * cellWidth;
  const cell = row * ground.width + eye.column;
  const out = (row - w.row) * w.width + middle;
  if (ends <= away) return true;
  let east = line[middle + away]!;
  let west = line[middle - away]!;
  for (let n = away + 1; n <= ends; n++) {
    const half = 0.5 * perStep[n]!;
    const straight = (n - away) * half;
    const across = away * half;
    const drop = base + perColumn * n * n;
    const eastOver = data[cell + n]! - drop;
    const eastLess = east * straight + (last[middle + n - 1]! * across - 0.5 * eastOver);
    const eastAbove = Math.abs(eastLess);
    seenFrom[out + n] = eastLess + eastAbove;
    line[middle + n] = east = eastOver + eastLess + eastAbove;
    const westOver = data[cell - n]! - drop;
    const westLess = west * straight + (last[middle - n + 1]! * across - 0.5 * westOver);
    const westAbove = Math.abs(westLess);
    seenFrom[out - n] = westLess + westAbove;
    line[middle - n] = west = westOver + westLess + westAbove;
  }
  // Along the row no data goes on to the end.
  return east === east && west === west;
}
