import { positionsOf } from '../plan/construct/map-positions.ts';
import type { PlanFeature } from '../plan/feature.ts';
import type { CellWindow } from '../raster/cell-window.ts';
import type { Grid } from '../raster/grid.ts';
import { dammedWater, type DammedPond, type DammedWater } from '../water/dammed-water.ts';
import type { Work } from '../work.ts';
import type { GroundInUse } from './definition.ts';
import { inFrame } from './ground-inputs.ts';
import { planOnGround, reachMeters } from './plan-on-ground.ts';

/** The ground about a feature, large enough for all that it dams. */
export interface DamWindow extends DammedWater {
  readonly sub: GroundInUse;
  readonly window: CellWindow;
  /** Heights with everything drawn but the feature, and with it. */
  readonly before: Float32Array;
  readonly after: Float32Array;
}

const FIRST_MARGIN_METERS = 40;

/**
 * What a feature dams, looked for in the ground about it and farther out while a pond reaches the
 * rim of what was looked at: an edit costs as much as it touches. Null where no ground rises under it: it
 * lies off the ground, and what it would hold back there is not known.
 */
export function* damWindow(
  ground: GroundInUse,
  feature: PlanFeature,
  others: readonly PlanFeature[],
  counts: (pond: DammedPond) => boolean,
): Work<DamWindow | null> {
  for (let margin = FIRST_MARGIN_METERS; ; margin *= 2) {
    const window = windowAbout(ground, feature, margin);
    if (!window) return null;
    const sub = cropped(ground, window);
    const before = planOnGround(sub, others);
    const after = planOnGround(sub, [...others, feature]);
    if (before.every((height, i) => Object.is(height, after[i]))) return null;
    const dammed = yield* dammedWater({ ...sub.grid, data: before }, after);
    const isWhole = window.width === ground.grid.width && window.height === ground.grid.height;
    if (isWhole || !dammed.ponds.some((pond) => pond.touchesRim && counts(pond))) {
      return { ...dammed, sub, window, before, after };
    }
  }
}

/** Cells about a feature and so far beyond its reach; null where the ground has none of them. */
function windowAbout(
  { grid, frame }: GroundInUse,
  { geometry, ...rest }: PlanFeature,
  margin: number,
): CellWindow | null {
  const places = positionsOf(geometry).map((position) => inFrame(frame, position));
  if (places.includes(null)) return null;
  const xs = places.map((place) => place![0]);
  const ys = places.map((place) => place![1]);
  const out = reachMeters({ geometry, ...rest } as PlanFeature) + margin;
  const clamp = (value: number, most: number) => Math.min(most, Math.max(0, value));
  const left = clamp(Math.floor((Math.min(...xs) - out - grid.west) / grid.cellWidth), grid.width);
  const right = clamp(Math.ceil((Math.max(...xs) + out - grid.west) / grid.cellWidth), grid.width);
  const top = clamp(
    Math.floor((grid.north - Math.max(...ys) - out) / grid.cellHeight),
    grid.height,
  );
  const bottom = clamp(
    Math.ceil((grid.north - Math.min(...ys) + out) / grid.cellHeight),
    grid.height,
  );
  if (right - left < 3 || bottom - top < 3) return null;
  return { column: left, row: top, width: right - left, height: bottom - top };
}

/** The part of a ground in a window of its cells. */
export function cropped(ground: GroundInUse, window: CellWindow): GroundInUse {
  const { grid } = ground;
  const data = new Float32Array(window.width * window.height);
  for (let row = 0; row < window.height; row++) {
    const start = (window.row + row) * grid.width + window.column;
    data.set(grid.data.subarray(start, start + window.width), row * window.width);
  }
  const part: Grid = {
    ...grid,
    data,
    width: window.width,
    height: window.height,
    west: grid.west + window.column * grid.cellWidth,
    north: grid.north - window.row * grid.cellHeight,
  };
  return { ...ground, grid: part };
}
