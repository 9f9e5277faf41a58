import { cellAt } from '../raster/sample.ts';
import type { FlowCatchments } from '../water/flow-lines.ts';
import { NO_DATA } from '../water/pointer-codes.ts';
import { Upstream } from '../water/upstream.ts';
import type { Work } from '../work.ts';
import type { LngLatPolygon } from './answers.ts';
import { cellOutline } from './cell-outline.ts';
import type { GroundInUse } from './definition.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';

/** What drains to a place that is pointed at. */
export interface PlaceCatchment {
  /** The place that it is for: of those in reach, where most drains through. */
  readonly at: readonly [number, number];
  readonly areaSquareMeters: number;
  readonly outline: readonly LngLatPolygon[];
  /** It lies in a hollow, and all that drains into that counts. */
  readonly inHollow: boolean;
}

/**
 * What drains to the place in reach of a point through which most drains (a finger is broader than a
 * flow line); in a hollow, to all of the hollow. By D-infinity, walked upstream. Null off the ground.
 */
export function* placeCatchment(
  { grid, frame }: Pick<GroundInUse, 'grid' | 'frame'>,
  { filled, labels }: Pick<LowSpotSurface, 'filled' | 'labels'>,
  flow: FlowCatchments,
  at: readonly [number, number],
  reachMeters: number,
): Work<PlaceCatchment | null> {
  const [x, y] = frame.fromLngLat(...at);
  const cell = mostNear(grid, flow, cellAt(grid, x, y), reachMeters);
  if (cell < 0) return null;
  const inHollow = labels[cell] !== 0;
  const targets = inHollow ? regionOf(labels, grid.width, cell) : [cell];
  const upstream = new Upstream(grid, filled, flow.pointers);
  const { areaSquareMeters, cells } = yield* upstream.into(targets);
  const row = Math.floor(cell / grid.width);
  const [lng, lat] = frame.toLngLat(
    grid.west + (cell - row * grid.width + 0.5) * grid.cellWidth,
    grid.north - (row + 0.5) * grid.cellHeight,
  );
  return {
    at: [Math.round(lng * 1e9) / 1e9, Math.round(lat * 1e9) / 1e9],
    areaSquareMeters,
    outline: yield* cellOutline({ grid, frame }, cells),
    inHollow,
  };
}

/** The cell in reach of one that most drains through, then the lowest index; -1 for none with data. */
function mostNear(
  { width, height, cellWidth, cellHeight }: GroundInUse['grid'],
  { areaSquareMeters, pointers }: FlowCatchments,
  about: number,
  reach: number,
): number {
  if (about < 0 || pointers[about] === NO_DATA) return -1;
  const row = Math.floor(about / width);
  const column = about - row * width;
  const [down, across] = [Math.floor(reach / cellHeight), Math.floor(reach / cellWidth)];
  let best = about;
  for (let r = Math.max(0, row - down); r <= Math.min(height - 1, row + down); r++) {
    for (let c = Math.max(0, column - across); c <= Math.min(width - 1, column + across); c++) {
      const away = Math.hypot((r - row) * cellHeight, (c - column) * cellWidth);
      const cell = r * width + c;
      if (away <= reach && areaSquareMeters[cell]! > areaSquareMeters[best]!) best = cell;
    }
  }
  return best;
}

/** The cells of a low spot: eight neighbours of one label. */
function regionOf(labels: Int32Array, width: number, first: number): number[] {
  const seen = new Set([first]);
  // No low spot reaches the rim of the grid, so all eight neighbours are there.
  for (const cell of seen) {
    for (const row of [-width, 0, width]) {
      for (let near = cell + row - 1; near <= cell + row + 1; near++) {
        if (labels[near] === labels[first]) seen.add(near);
      }
    }
  }
  return [...seen];
}
