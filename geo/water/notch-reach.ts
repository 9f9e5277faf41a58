import type { Channel } from '../ground/earthworks.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { Grid } from '../raster/grid.ts';
import { sampleBilinear } from '../raster/sample.ts';

/** Where the sides of a channel come out on the ground, at one station: metres from the centre. */
export interface Daylight {
  readonly leftMeters: number;
  readonly rightMeters: number;
  /** False when a side is still in the ground at the limit, or where data ends. */
  readonly meets: boolean;
}

/**
 * Follows both sides of a channel square to its line, in steps of a quarter of a cell, to the last
 * place where the ground lies over them; no farther than `limit` or the ground is known. 0 on a
 * side where nothing is cut.
 */
export function daylightAt(
  ground: Grid,
  channel: Channel,
  station: number,
  limit: number,
): Daylight {
  const { at, along } = placeAt(channel.line, station);
  const bottom = channel.bottomAt(station);
  const left = follow(ground, channel, at, [-along[1], along[0]], bottom, limit);
  const right = follow(ground, channel, at, [along[1], -along[0]], bottom, limit);
  return {
    leftMeters: Math.abs(left),
    rightMeters: Math.abs(right),
    meets: left >= 0 && right >= 0,
  };
}

/** Farthest that a channel's cut runs out from its line, and whether both sides always come out. */
export function daylightReach(
  ground: Grid,
  channel: Channel,
  limit: number,
): { readonly meters: number; readonly everywhere: boolean } {
  const length = lineLength(channel.line);
  const cell = Math.min(ground.cellWidth, ground.cellHeight);
  const count = Math.ceil(length / cell);
  let meters = channel.halfBottom;
  let everywhere = true;
  for (let i = 0; i <= count; i++) {
    const { leftMeters, rightMeters, meets } = daylightAt(
      ground,
      channel,
      Math.min(length, i * cell),
      limit,
    );
    meters = Math.max(meters, leftMeters, rightMeters);
    everywhere &&= meets;
  }
  // A cell more, for ground that stands out between two stations.
  return { meters: Math.min(limit, meters + cell), everywhere };
}

/** Metres out to the last cut; below 0 where the side is still in the ground at the last look. */
function follow(
  ground: Grid,
  { halfBottom, sideRun }: Channel,
  [x, y]: readonly [number, number],
  [east, north]: readonly [number, number],
  bottom: number,
  limit: number,
): number {
  const step = Math.min(ground.cellWidth, ground.cellHeight) / 4;
  let last = 0;
  for (let out = 0; out < limit; out += step) {
    const beside = out - halfBottom;
    if (beside > 0 && sideRun === 0) return last;
    const surface = bottom + (beside > 0 ? beside / sideRun : 0);
    const z = sampleBilinear(ground, x + out * east, y + out * north);
    if (z > surface) last = out;
    else if (beside > 0) return z <= surface ? last : -last;
  }
  return -limit;
}
