import type { Window } from './window.ts';

/** One row of samples of a window at frame positions; NaN where the grid has no number. */
export interface RowSamples {
  readonly value: Float32Array;
  /** Rise over run toward grid east and grid north. */
  readonly east: Float32Array;
  readonly north: Float32Array;
}

export function rowSamples(width: number): RowSamples {
  return {
    value: new Float32Array(width),
    east: new Float32Array(width),
    north: new Float32Array(width),
  };
}

/**
 * Value and gradient by a quadratic B-spline over three by three cells: the gradient is continuous,
 * so shading and contours show no facets when pixels are smaller than cells. It smooths by a third
 * of a cell, which pictures can bear; numbers are never read from it.
 */
export function sampleSmooth(
  window: Window,
  x: Float64Array,
  y: Float64Array,
  count: number,
  out: RowSamples,
): void {
  const { values, gap, width, originX, originY, cellWidth, cellHeight } = window;
  const { left, right, top, bottom } = window;
  for (let p = 0; p < count; p++) {
    const u = (x[p] - originX) / cellWidth;
    const v = (originY - y[p]) / cellHeight;
    const i = Math.floor(u + 0.5);
    const j = Math.floor(v + 0.5);
    const k = j * width + i;
    // `!(…)` also catches NaN positions.
    if (!(i >= left && i < right && j >= top && j < bottom) || (gap !== null && gap[k] === 1)) {
      out.value[p] = NaN;
      continue;
    }
    const s = u - i;
    const t = v - j;
    const sw = 0.5 * (0.5 - s) * (0.5 - s);
    const sm = 0.75 - s * s;
    const se = 0.5 * (0.5 + s) * (0.5 + s);
    const tn = 0.5 * (0.5 - t) * (0.5 - t);
    const tm = 0.75 - t * t;
    const ts = 0.5 * (0.5 + t) * (0.5 + t);
    const a = k - width;
    const b = k + width;
    const upper = sw * values[a - 1] + sm * values[a] + se * values[a + 1];
    const here = sw * values[k - 1] + sm * values[k] + se * values[k + 1];
    const lower = sw * values[b - 1] + sm * values[b] + se * values[b + 1];
    out.value[p] = tn * upper + tm * here + ts * lower;
    // Derivatives of the three weights: s - 1/2, -2s, s + 1/2.
    out.north[p] = -((t - 0.5) * upper - 2 * t * here + (t + 0.5) * lower) / cellHeight;
    const dw = s - 0.5;
    const dm = -2 * s;
    const de = s + 0.5;
    out.east[p] =
      (tn * (dw * values[a - 1] + dm * values[a] + de * values[a + 1]) +
        tm * (dw * values[k - 1] + dm * values[k] + de * values[k + 1]) +
        ts * (dw * values[b - 1] + dm * values[b] + de * values[b + 1])) /
      cellWidth;
  }
}

/** Value by bilinear interpolation between cell centres, into `out`; NaN where there is none. */
export function sampleBilinear(
  window: Window,
  x: Float64Array,
  y: Float64Array,
  count: number,
  out: Float32Array,
): void {
  const { values, gap, width, originX, originY, cellWidth, cellHeight } = window;
  const { left, right, top, bottom } = window;
  for (let p = 0; p < count; p++) {
    const u = (x[p] - originX) / cellWidth;
    const v = (originY - y[p]) / cellHeight;
    const nearI = Math.floor(u + 0.5);
    const nearJ = Math.floor(v + 0.5);
    if (
      !(nearI >= left && nearI < right && nearJ >= top && nearJ < bottom) ||
      (gap !== null && gap[nearJ * width + nearI] === 1)
    ) {
      out[p] = NaN;
      continue;
    }
    const i = Math.floor(u);
    const j = Math.floor(v);
    const s = u - i;
    const t = v - j;
    const k = j * width + i;
    const upper = values[k] + (values[k + 1] - values[k]) * s;
    const lower = values[k + width] + (values[k + width + 1] - values[k + width]) * s;
    out[p] = upper + (lower - upper) * t;
  }
}
