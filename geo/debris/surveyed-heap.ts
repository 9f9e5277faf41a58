import type { Grid } from '../raster/grid.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import type { RingsXY } from '../raster/polygon-mask.ts';
import { sampleBilinear } from '../raster/sample.ts';
import { ok, problem, type Result } from '../result.ts';
import { belowZero } from './check-numbers.ts';
import type { LowHigh } from './low-high.ts';

/** A survey with its stated vertical error (one standard deviation). */
export interface Survey {
  readonly grid: Grid;
  readonly errorMeters: number;
}

export interface SurveyedHeap {
  readonly cubicMeters: LowHigh;
  /** Square metres of ground with data in both surveys. */
  readonly areaSquareMeters: number;
  readonly greatestHeightMeters: number;
  /** Of the outline, without data in either survey; taken as high as the rest is on average. */
  readonly missingShare: number;
  /** Of the outline, where the surface lies under the ground. */
  readonly belowShare: number;
}

/** Two standard deviations: 95 %. */
const DEVIATIONS = 1.96;
/** More than this without data, and it is no survey of the heap. */
const MOST_MISSING = 0.5;

/**
 * Volume of a heap: surveyed surface minus the ground before it, over its outline (rings in frame
 * metres; exact parts of the surface's cells; the ground bilinear at their centres). What lies
 * under the ground counts against it, so that noise evens out. Errors of both surveys are taken as
 * alike over the whole heap, which is the worst case, and independent of each other; `low` is
 * without what is missing, too, and `high` with all of it as high as the highest.
 * NaN in either grid is no data. Problems: `heap-without-outline`, `heap-not-surveyed` for an
 * outline mostly without data, and errors below 0. Throws RangeError for corners not finite.
 * Example: a paraboloid 20 m wide and 4 m high over any slope: 628 m³; 0.1 m of error is ±62 m³.
 */
export function surveyedHeap(
  surface: Survey,
  ground: Survey,
  rings: RingsXY,
): Result<SurveyedHeap> {
  const bad = belowZero({ 'error of the survey': surface.errorMeters, 'error of the ground': ground.errorMeters }); // prettier-ignore
  if (bad) return bad;
  const { grid } = surface;
  const { whole, partial, polygonCells } = polygonCoverage(grid, rings);
  if (!(polygonCells > 1e-9)) {
    return problem(
      'heap-without-outline',
      'The outline of the heap has no extent.',
      'Draw round the foot of the heap.',
    );
  }
  let [covered, below, greatest] = [0, 0, 0];
  const volume = new ExactSum();
  const add = (row: number, column: number, share: number) => {
    const x = grid.west + (column + 0.5) * grid.cellWidth;
    const y = grid.north - (row + 0.5) * grid.cellHeight;
    const height = grid.data[row * grid.width + column]! - sampleBilinear(ground.grid, x, y);
    if (Number.isNaN(height)) return;
    volume.add(height * share);
    covered += share;
    if (height < 0) below += share;
    if (height > greatest) greatest = height;
  };
  for (let i = 0; i < whole.count; i++) {
    for (let c = whole.start[i]!; c < whole.end[i]!; c++) add(whole.row[i]!, c, 1);
  }
  for (let i = 0; i < partial.count; i++) {
    add(partial.row[i]!, partial.column[i]!, partial.share[i]!);
  }
  const missing = Math.max(0, polygonCells - covered);
  if (missing > MOST_MISSING * polygonCells) {
    return problem(
      'heap-not-surveyed',
      'Most of the heap has no height in one of the two surveys.',
      'Check the outline, or survey the heap.',
    );
  }
  const cell = grid.cellGroundAreaSquareMeters;
  const known = volume.value * cell;
  const mean = known / covered;
  const doubt = DEVIATIONS * Math.hypot(surface.errorMeters, ground.errorMeters) * covered * cell;
  const likely = known + mean * missing;
  return ok({
    cubicMeters: {
      low: Math.min(likely, Math.max(0, known - doubt)),
      likely,
      high: Math.max(likely, known + greatest * cell * missing + doubt),
    },
    areaSquareMeters: covered * cell,
    greatestHeightMeters: greatest,
    missingShare: missing < 1e-9 * polygonCells ? 0 : missing / polygonCells,
    belowShare: below / polygonCells,
  });
}

/** A sum that carries along what rounding drops (Neumaier 1974). */
class ExactSum {
  private sum = 0;
  private dropped = 0;

  add(value: number): void {
    const next = this.sum + value;
    this.dropped += Math.abs(this.sum) >= Math.abs(value) ? this.sum - next + value : value - next + this.sum; // prettier-ignore
    this.sum = next;
  }

  get value(): number {
    return this.sum + this.dropped;
  }
}
