import type { Grid } from '../raster/grid.ts';
import type { CostPlace } from './steps.ts';
import { STEPS, stepColumns, stepRows } from './steps.ts';
import { secondsPerMeter } from './walking-time.ts';

/** What a walk is weighed by. Ours, common practice at best: editable, never called fact. */
export interface LaneWeights {
  /** Share of Tobler's speed left off the path (3/5 by Tobler) and for dark and quiet. */
  readonly offPathFactor: number;
  readonly darkFactor: number;
  /** How many times a metre counts more where scent is sure to reach protected ground. */
  readonly scent: number;
  /** … where every eye of a group sees the walker. */
  readonly seen: number;
  /** … on wet ground. */
  readonly wet: number;
  /** … for each 1 of slope (rise over run) past `steepFrom`. */
  readonly steep: number;
  readonly steepFrom: number;
}

export const defaultLaneWeights: LaneWeights = {
  offPathFactor: 0.6,
  darkFactor: 0.6,
  scent: 20,
  seen: 6,
  wet: 2,
  steep: 10,
  steepFrom: 0.2,
};

/** What lies on the ground, by cell of its grid; null where nobody knows any. */
export interface LaneLayers {
  /** Not 0 where one never walks: every cell that no-go ground touches. */
  readonly barred: Uint8Array | null;
  /** Not 0 on a path or track, where one walks at full speed. */
  readonly path: Uint8Array | null;
  /** Share of the eyes that see a walker there, 0 to 1. */
  readonly seen: Float32Array | null;
  /** 0 dry to 1 wet. */
  readonly wet: Float32Array | null;
}

/** Ground made ready for lanes: all that does not change with the wind. */
export interface LaneGround extends CostPlace {
  /** Frame metres of the north-west corner. */
  readonly west: number;
  readonly north: number;
  readonly weights: LaneWeights;
  /** Mean height, metres; NaN without data. */
  readonly heights: Float32Array;
  readonly barred: Uint8Array;
  /** Steepest slope, rise over run. */
  readonly slope: Float32Array;
  readonly seen: Float32Array;
  readonly wet: Float32Array;
  /** Share of the speed on a path by day that is left. */
  readonly speedFactor: Float32Array;
  /** 1 and what is added by sight, wet and slope. */
  readonly weight: Float32Array;
  /** Seconds a metre in the direction of each of the sixteen steps. */
  readonly secondsPerMeter: readonly Float32Array[];
  /** Bounds of these. */
  readonly paceRange: { readonly least: number; readonly most: number };
}

/**
 * The ground in cells of about `cellMeters` (whole cells of the grid each way), weighed for walking.
 * 3 m is as near as one keeps to a line in timber.
 * A cell is barred where any of its part is, or where none has a height; heights, sight and wet are
 * means; a path in it makes it path. Slope from the four cells beside (a rim: from one side).
 * Row-major, row 0 north. Throws RangeError for a layer of another length, a factor or a cell size
 * not above 0, a weight below 0.
 */
export function laneGround(
  ground: Grid,
  layers: LaneLayers,
  weights: LaneWeights,
  cellMeters = 3,
): LaneGround {
  checkAll(ground, layers, weights, cellMeters);
  const across = Math.max(1, Math.round(cellMeters / ground.cellWidth));
  const down = Math.max(1, Math.round(cellMeters / ground.cellHeight));
  const width = Math.ceil(ground.width / across);
  const height = Math.ceil(ground.height / down);
  const cells = width * height;
  const heights = new Float32Array(cells);
  const barred = new Uint8Array(cells);
  const seen = new Float32Array(cells);
  const wet = new Float32Array(cells);
  const speedFactor = new Float32Array(cells);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      let [count, known, sum, isBarred, isPath, seenSum, wetSum] = [0, 0, 0, 0, 0, 0, 0];
      for (let r = row * down; r < Math.min(ground.height, (row + 1) * down); r++) {
        const end = Math.min(ground.width, (column + 1) * across);
        for (let c = column * across; c < end; c++) {
          const at = r * ground.width + c;
          count++;
          const z = ground.data[at]!;
          if (z === z) {
            known++;
            sum += z;
          }
          if (layers.barred !== null) isBarred |= layers.barred[at]!;
          if (layers.path !== null) isPath |= layers.path[at]!;
          if (layers.seen !== null) seenSum += layers.seen[at]! || 0;
          if (layers.wet !== null) wetSum += layers.wet[at]! || 0;
        }
      }
      const at = row * width + column;
      heights[at] = known > 0 ? sum / known : NaN;
      barred[at] = isBarred !== 0 || known === 0 ? 1 : 0;
      seen[at] = seenSum / count;
      wet[at] = wetSum / count;
      speedFactor[at] = weights.darkFactor * (isPath !== 0 ? 1 : weights.offPathFactor);
    }
  }
  const place = {
    width,
    height,
    west: ground.west,
    north: ground.north,
    cellWidth: across * ground.cellWidth,
    cellHeight: down * ground.cellHeight,
  };
  const { slope, seconds, paceRange } = slopesAndPaces(place, heights, speedFactor);
  const weight = Float32Array.from(slope, (s, i) => {
    const steep = weights.steep * Math.max(0, s - weights.steepFrom);
    return 1 + weights.seen * seen[i]! + weights.wet * wet[i]! + steep;
  });
  return {
    ...place,
    weights,
    heights,
    barred,
    slope,
    seen,
    wet,
    speedFactor,
    weight,
    secondsPerMeter: seconds,
    paceRange,
  };
}

function slopesAndPaces(place: CostPlace, heights: Float32Array, speedFactor: Float32Array) {
  const { width, height, cellWidth, cellHeight } = place;
  const slope = new Float32Array(heights.length);
  const seconds = Array.from({ length: STEPS }, () => new Float32Array(heights.length));
  let [least, most] = [Infinity, 0];
  const ways = Array.from({ length: STEPS }, (_, s) => {
    const [east, north] = [stepColumns[s]! * cellWidth, -stepRows[s]! * cellHeight];
    const meters = Math.hypot(east, north);
    return [east / meters, north / meters] as const;
  });
  for (let row = 0, at = 0; row < height; row++) {
    for (let column = 0; column < width; column++, at++) {
      const here = heights[at]!;
      const west = column > 0 ? heights[at - 1]! : NaN;
      const east = column < width - 1 ? heights[at + 1]! : NaN;
      const north = row > 0 ? heights[at - width]! : NaN;
      const south = row < height - 1 ? heights[at + width]! : NaN;
      const toEast = between(west, here, east, cellWidth);
      const toNorth = between(south, here, north, cellHeight);
      slope[at] = Math.hypot(toEast, toNorth);
      for (let s = 0; s < STEPS; s++) {
        const rise = toEast * ways[s]![0] + toNorth * ways[s]![1];
        const pace = secondsPerMeter(rise) / speedFactor[at]!;
        seconds[s]![at] = pace;
        if (pace < least) least = pace;
        if (pace > most) most = pace;
      }
    }
  }
  return { slope, seconds, paceRange: { least, most } };
}

/** Slope from one neighbour to the other; from one side where the other is unknown, else level. */
function between(before: number, here: number, after: number, meters: number): number {
  if (before === before && after === after) return (after - before) / (2 * meters);
  if (after - here === after - here) return (after - here) / meters;
  if (here - before === here - before) return (here - before) / meters;
  return 0;
}

function checkAll(
  ground: Grid,
  layers: LaneLayers,
  weights: LaneWeights,
  cellMeters: number,
): void {
  for (const [name, layer] of Object.entries(layers) as [string, ArrayLike<number> | null][]) {
    if (layer !== null && layer.length !== ground.data.length) {
      throw new RangeError(`${name}: ${layer.length} of ${ground.data.length} cells`);
    }
  }
  for (const [name, value] of Object.entries(weights) as [string, number][]) {
    const isFine = name.endsWith('Factor') ? value > 0 : value >= 0;
    if (!isFine || !Number.isFinite(value)) throw new RangeError(`${name} of ${value}`);
  }
  if (!(cellMeters > 0)) throw new RangeError(`cells of ${cellMeters} m`);
}
