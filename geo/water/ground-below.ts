import { placeAt, lineLength } from '../plan/line-geometry.ts';
import type { Grid } from '../raster/grid.ts';
import { sampleBilinear } from '../raster/sample.ts';

type XY = readonly [number, number];

export interface GroundBelow {
  /** Mean fall from the outlet over the first `nearMeters` of the way the water takes. */
  readonly outletSlopeRatio: number;
  /** Steepest slope of the ground ahead of and below the outlet, within `withinMeters`. */
  readonly steepestRatio: number;
  readonly steepestAt: XY | null;
  readonly steep: boolean;
}

/** Slopes are taken over this much ground each way, so that the survey's noise is not one. */
const SPAN = 3;

/**
 * What lies below a notch's far end: looks at every cell within `withinMeters` (30 when not given)
 * that is ahead of the end, in the notch's own direction or square to it, and lower than the ground
 * there. Slope by central differences over 3 m each way. `steep` where any passes `limitRatio`
 * (15 % when not given: no permissible speed is published for grass over 10 %, and a disk and a
 * mower stop near 15). Frame metres; places without data are passed over.
 * The outlet's own slope is the greatest fall from the end to anywhere `nearMeters` (10) away.
 * Throws RangeError for a line without length.
 */
export function groundBelow(
  ground: Grid,
  line: readonly XY[],
  options: {
    readonly withinMeters?: number;
    readonly nearMeters?: number;
    readonly limitRatio?: number;
  } = {},
): GroundBelow {
  const { withinMeters = 30, nearMeters = 10, limitRatio = 0.15 } = options;
  const { at, along } = placeAt(line, lineLength(line));
  const level = sampleBilinear(ground, ...at);
  const step = Math.min(ground.cellWidth, ground.cellHeight);
  const cells = Math.floor(withinMeters / step);
  let steepestRatio = 0;
  let steepestAt: XY | null = null;
  for (let down = -cells; down <= cells; down++) {
    for (let across = -cells; across <= cells; across++) {
      const [east, north] = [across * step, down * step];
      const far = Math.hypot(east, north);
      if (far > withinMeters || far === 0 || east * along[0] + north * along[1] < 0) continue;
      const [x, y] = [at[0] + east, at[1] + north];
      if (!(sampleBilinear(ground, x, y) < level)) continue;
      const slope = slopeAt(ground, x, y);
      if (!(slope > steepestRatio)) continue;
      steepestRatio = slope;
      steepestAt = [x, y];
    }
  }
  const outletSlopeRatio = fallFrom(ground, at, level, along, nearMeters);
  return { outletSlopeRatio, steepestRatio, steepestAt, steep: steepestRatio > limitRatio };
}

function slopeAt(ground: Grid, x: number, y: number): number {
  const east = sampleBilinear(ground, x + SPAN, y) - sampleBilinear(ground, x - SPAN, y);
  const north = sampleBilinear(ground, x, y + SPAN) - sampleBilinear(ground, x, y - SPAN);
  return Math.hypot(east, north) / (2 * SPAN);
}

/** Greatest fall from a place to a half circle ahead of it; 0 where nothing there is lower. */
function fallFrom(ground: Grid, [x, y]: XY, level: number, along: XY, meters: number): number {
  let most = 0;
  for (let turn = -90; turn <= 90; turn += 5) {
    const angle = (turn * Math.PI) / 180;
    const east = along[0] * Math.cos(angle) - along[1] * Math.sin(angle);
    const north = along[0] * Math.sin(angle) + along[1] * Math.cos(angle);
    const fall = level - sampleBilinear(ground, x + meters * east, y + meters * north);
    if (fall / meters > most) most = fall / meters;
  }
  return most;
}
