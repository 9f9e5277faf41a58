import { simplifyLine } from '../plan/construct/simplify.ts';
import type { Grid } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import { designNotch, type NotchDesign, type NotchOptions } from './notch.ts';

type XY = readonly [number, number];

/** How far corners of the way may lie from the line that is dug, cells. */
const TOLERANCES = [6, 4, 2.5, 1.5, 0.75];

/**
 * A notch that a dozer can follow, along a way of grid cells (their centres, frame metres): the way
 * is thinned out by several tolerances, and of the lines that come out of the ground and dig into
 * nothing barred the one with the least dirt is taken. Where none does, the way is dug as it is,
 * and `touches` and `daylights` say what is wrong with it. The ends stay, and a line is never
 * longer than the way, so the bottom ends no lower than the way's.
 * Throws as `designNotch`.
 */
export function* fairNotch(
  ground: Grid,
  way: readonly XY[],
  options: NotchOptions = {},
): Work<NotchDesign> {
  const cell = Math.max(ground.cellWidth, ground.cellHeight);
  let best: NotchDesign | null = null;
  let corners = 0;
  for (const tolerance of TOLERANCES) {
    const keep = simplifyLine(way, tolerance * cell);
    const line = way.filter((_, i) => keep[i] === 1);
    if (line.length === corners) continue;
    corners = line.length;
    const design = yield* designNotch(ground, line, options);
    if (!design.daylights || design.touches.length > 0) continue;
    if (!best || design.bankCubicMeters.likely < best.bankCubicMeters.likely) best = design;
  }
  return best ?? (yield* designNotch(ground, way, options));
}
