import type { Grid } from '../raster/grid.ts';
import type { Problem } from '../result.ts';
import type { Work } from '../work.ts';
import { barredNear, drainsFreely, NotchSearch, type DrainFound } from './drain-search.ts';
import { checkSection, usualSection, type NotchSection } from './notch-section.ts';

export interface DrainPath {
  /** Grid cells from the spot's deepest to the one where the water runs on, each beside the last. */
  readonly cells: Int32Array;
  readonly lengthMeters: number;
  /** Bank volume by cross sections on level ground: what was made least, not what to print. */
  readonly cutCubicMeters: number;
  /** `rim`: it runs off the survey, and what lies beyond is not known. */
  readonly endsAt: 'lower-ground' | 'rim';
}

export type DrainPathResult =
  | { readonly ok: true; readonly value: DrainPath }
  | {
      readonly ok: false;
      readonly problem: Problem;
      /** Codes in `blocked` that the cheapest way would have had to dig through, rising. */
      readonly blockedBy: readonly number[];
    };

export interface DrainPathOptions {
  /** The spot's deepest cell. */
  readonly start: number;
  /** Per cell: 0 where one may dig, else the caller's own code of what bars it. */
  readonly blocked?: Uint8Array | null;
  readonly section?: NotchSection;
  /** Along the cells of the way; 200 m when not given. */
  readonly maxLengthMeters?: number;
  /** 3 m when not given. */
  readonly maxCutMeters?: number;
}

/**
 * The cheapest way to drain a low spot: from its deepest cell, over the rim, to the first cell whose
 * own filled level is no higher than the notch's bottom there, or that drains freely off the grid.
 * Idea: Lindsay 2016, Hydrological Processes 30:846–857 (least-cost breach), with two changes of
 * ours. The cost is the bank volume of a notch of the given section, not the mere depth, so a long
 * shallow way and a short deep one are weighed by dirt. And the bottom falls by the section's grade
 * all along, so the way is longer than the breach and water moves in it. Nothing is half done: a
 * spot that cannot be let out whole within the limits has no way.
 * Barred cells are never crossed, and the sides, as they would run out on level ground, stay off
 * them. Each cell keeps its cheapest way only; a dearer and shorter one, whose bottom would be
 * higher by the grade times the difference, is forgotten: with no grade the least is exact.
 * Row-major, row 0 north, metres; NaN is never crossed. `filled` is the same ground filled.
 * Throws RangeError for arrays of another length, a start without data or that does not pond.
 */
export function* drainPath(
  ground: Grid,
  filled: Float32Array,
  options: DrainPathOptions,
): Work<DrainPathResult> {
  const { start, section = usualSection, maxLengthMeters = 200, maxCutMeters = 3 } = options;
  const blocked = options.blocked ?? null;
  check(ground, filled, blocked, start, section);
  const search = { ground, filled, start, section, maxLengthMeters, maxCutMeters };
  if (blocked === null || blocked[start] === 0) {
    const found = yield* new NotchSearch({ ...search, blocked }).run();
    if (found.cells.length > 0) return { ok: true, value: pathOf(ground, filled, section, found) };
    if (blocked === null) return { ok: false, problem: noWay(found), blockedBy: [] };
  }
  const free = yield* new NotchSearch({ ...search, blocked: null }).run();
  if (free.cells.length === 0) return { ok: false, problem: noWay(free), blockedBy: [] };
  const blockedBy = barredAlong(ground, blocked!, section, free.cells);
  return { ok: false, problem: barred, blockedBy };
}

const barred: Problem = {
  code: 'way-out-blocked',
  what: 'Every way to let this low spot out digs through ground that must not be cut.',
  wayOut: 'Fill the spot instead, or leave it as it is.',
};

function noWay({ turnedBack }: DrainFound): Problem {
  if (turnedBack.tooDeep) {
    return {
      code: 'way-out-too-deep',
      what: 'Letting this low spot out takes a deeper cut than is allowed.',
      wayOut: 'Fill the spot instead, or allow a deeper cut.',
    };
  }
  if (turnedBack.tooFar) {
    return {
      code: 'way-out-too-far',
      what: 'No lower ground lies within the longest notch allowed from this low spot.',
      wayOut: 'Fill the spot instead, or allow a longer notch.',
    };
  }
  return {
    code: 'way-out-none',
    what: 'No ground that the survey covers leads out of this low spot.',
    wayOut: 'Fill the spot instead, or bring in a survey that reaches farther.',
  };
}

function pathOf(
  ground: Grid,
  filled: Float32Array,
  section: NotchSection,
  { cells, lengthMeters, cutCubicMeters }: DrainFound,
): DrainPath {
  const end = cells[cells.length - 1]!;
  const bottom = ground.data[cells[0]!]! - section.gradeRatio * lengthMeters;
  const offRim = filled[end]! > bottom || drainsFreely(ground, end);
  return { cells, lengthMeters, cutCubicMeters, endsAt: offRim ? 'rim' : 'lower-ground' };
}

/** What the cuts along a way would touch. */
function barredAlong(
  ground: Grid,
  blocked: Uint8Array,
  section: NotchSection,
  cells: Int32Array,
): number[] {
  const codes = new Set<number>();
  const line = pathLine(ground, cells);
  let bottom = ground.data[cells[0]!]!;
  for (const [i, cell] of cells.entries()) {
    if (i > 0) bottom -= section.gradeRatio * distance(line[i - 1]!, line[i]!);
    const cut = ground.data[cell]! - bottom;
    const reach = cut > 0 ? section.bottomWidthMeters / 2 + section.sideRun * cut : 0;
    for (const code of barredNear(ground, blocked, cell, reach)) codes.add(code);
  }
  return [...codes].sort((a, b) => a - b);
}

function distance(a: readonly [number, number], b: readonly [number, number]): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function check(
  { data }: Grid,
  filled: Float32Array,
  blocked: Uint8Array | null,
  start: number,
  section: NotchSection,
): void {
  checkSection(section);
  for (const length of [filled.length, blocked?.length ?? data.length]) {
    if (length !== data.length) {
      throw new RangeError(`an array of ${length} for ${data.length} cells`);
    }
  }
  if (!(filled[start]! > data[start]!)) throw new RangeError(`cell ${start} is in no low spot`);
}

/** Centres of the cells of a way, frame metres. */
export function pathLine(
  { width, west, north, cellWidth, cellHeight }: Grid,
  cells: Int32Array,
): [number, number][] {
  return Array.from(cells, (cell) => {
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    return [west + (column + 0.5) * cellWidth, north - (row + 0.5) * cellHeight];
  });
}
