import type { CostSurface } from './least-cost.ts';
import type { LaneGround } from './lane-ground.ts';
import { STEPS } from './steps.ts';

/** How likely scent from a place reaches protected ground, 0 to 1, by frame x and y in metres. */
export type ExposureAt = (x: number, y: number) => number;

/**
 * Scent exposure by cell of a lane ground: asked at least every `stepMeters` and straight between. NaN counts
 * as 1: what is not known is not safe. Row-major, row 0 north.
 */
export function exposureField(
  ground: LaneGround,
  exposureAt: ExposureAt,
  stepMeters = 8,
  out: Float32Array = new Float32Array(ground.width * ground.height),
): Float32Array {
  const { width, height, cellWidth, cellHeight, west, north } = ground;
  const columns = 1 + Math.ceil(((width - 1) * cellWidth) / stepMeters);
  const rows = 1 + Math.ceil(((height - 1) * cellHeight) / stepMeters);
  // Cells between two columns or rows that are asked: evenly spread, so no side is favoured.
  const across = columns > 1 ? (width - 1) / (columns - 1) : 1;
  const down = rows > 1 ? (height - 1) / (rows - 1) : 1;
  const asked = new Float32Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const x = west + (c * across + 0.5) * cellWidth;
      const y = north - (r * down + 0.5) * cellHeight;
      const share = exposureAt(x, y);
      asked[r * columns + c] = share === share ? Math.min(1, Math.max(0, share)) : 1;
    }
  }
  for (let row = 0, at = 0; row < height; row++) {
    const r = Math.max(0, Math.min(Math.floor(row / down), rows - 2));
    const v = row / down - r;
    const below = Math.min(r + 1, rows - 1) * columns;
    for (let column = 0; column < width; column++, at++) {
      const c = Math.max(0, Math.min(Math.floor(column / across), columns - 2));
      const beside = Math.min(c + 1, columns - 1);
      const u = column / across - c;
      const upper = asked[r * columns + c]! * (1 - u) + asked[r * columns + beside]! * u;
      const lower = asked[below + c]! * (1 - u) + asked[below + beside]! * u;
      out[at] = upper * (1 - v) + lower * v;
    }
  }
  return out;
}

/**
 * What a metre of walk costs in each cell and direction: seconds by slope and footing, times 1 and
 * what is added by being smelt, seen, wet or steep. Infinity on barred ground. Writes into `out`, one
 * array for each of the sixteen steps, when given. Throws RangeError for arrays of another length.
 * Example: level, off the path, in the dark, where scent half reaches a plot, at weight 20:
 * 0.715 s / 0.36 · 11 = 21.8 s.
 */
export function laneCost(
  ground: LaneGround,
  exposure: Float32Array,
  out?: readonly Float32Array[],
): CostSurface {
  const cells = ground.width * ground.height;
  const tables = out ?? Array.from({ length: STEPS }, () => new Float32Array(cells));
  if (exposure.length !== cells || tables.some((table) => table.length !== cells)) {
    throw new RangeError(`exposure of ${exposure.length} cells for ${cells}`);
  }
  const { width, height, cellWidth, cellHeight, barred, weight, weights, paceRange } = ground;
  const times = new Float32Array(cells);
  let [least, most] = [Infinity, 0];
  for (let i = 0; i < cells; i++) {
    const here = weight[i]! + weights.scent * exposure[i]!;
    times[i] = barred[i] === 0 ? here : Infinity;
    if (here < least) least = here;
    if (here > most) most = here;
  }
  for (let s = 0; s < STEPS; s++) timesInto(ground.secondsPerMeter[s]!, times, tables[s]!);
  const range = { least: least * paceRange.least * 0.999, most: most * paceRange.most };
  return { width, height, cellWidth, cellHeight, perMeter: tables, range };
}

function timesInto(seconds: Float32Array, times: Float32Array, out: Float32Array): void {
  for (let i = 0; i < out.length; i++) out[i] = seconds[i]! * times[i]!;
}
