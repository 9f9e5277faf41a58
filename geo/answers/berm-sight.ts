import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { shapeDistance } from '../plan/shape-distance.ts';
import type { BermGaps } from './debris-answers.ts';
import type { Inputs } from './definition.ts';
import { ringsInFrame } from './ground-inputs.ts';
import { lineInFrame, planOnGround } from './plan-on-ground.ts';
import { sightGround, sightOver, watchersOf } from './way-sight.ts';

/** Plots farther from a berm than so are not screened by it: half a bow range and more (ours). */
const NEAR_METERS = 60;

/**
 * What the seats near see of the plots near a berm: without it, as it is drawn, and with the gaps
 * and the section that it should have. None without ground, plots or seats.
 */
export function bermSight(
  inputs: Inputs,
  berm: PlanFeature<'berm'>,
  { gaps, section }: Pick<BermGaps, 'gaps' | 'section'>,
): BermGaps['seats'] {
  const ground = inputs.raster('ground');
  const line = ground && lineInFrame(ground, berm);
  if (!ground || !line) return [];
  const rings = inputs.features('plot').flatMap((plot): XY[][] => {
    if (!isKind(plot, 'plot') || plot.geometry.type !== 'Polygon') return [];
    const own = ringsInFrame(plot, ground.frame);
    if (!own) return [];
    const off = shapeDistance({ kind: 'line', paths: [line] }, { kind: 'area', paths: own });
    return off.meters <= NEAR_METERS ? own : [];
  });
  if (rings.length === 0) return [];
  const watchers = { ...watchersOf(inputs, ground, rings, []), lane: [] };
  if (watchers.seats.length === 0) return [];
  const part = sightGround(ground, watchers);
  const over = (features: readonly PlanFeature[]) =>
    sightOver({ ...part.grid, data: planOnGround(part, features) }, watchers).seats;
  const planned = { ...berm, properties: { ...berm.properties, ...section, gaps: [...gaps], section: berm.properties.section } }; // prettier-ignore
  const [before, now, then] = [over([]), over([berm]), over([planned as PlanFeature])];
  return before.map(({ standId, share }, i) => ({
    standId,
    seenShareBefore: share,
    seenShare: now[i]!.share,
    seenShareWithGaps: then[i]!.share,
  }));
}
