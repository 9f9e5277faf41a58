import { nearestFirst } from '../debris/nearest-first.ts';
import type { DebrisBlocks } from './debris-blocks.ts';
import { debrisSinks, type PlanSink } from './debris-sinks.ts';
import type { SiteDefinition } from './definition.ts';

/** Which of the debris of a whole job goes where, as it is drawn. */
export interface DebrisPlan extends DebrisBlocks {
  readonly sinks: readonly PlanSink[];
  /** What each sink gets, shortest push first, no more than it holds. */
  readonly placed: Float64Array;
  /** Out of reach of all that has room. */
  readonly leftOverCubicMeters: number;
  /** What each sink would get if berms held anything. */
  readonly wanted: Float64Array;
}

/** Which of the debris goes to which berm or heap: the shortest push first. */
export const debrisPlan: SiteDefinition = {
  name: 'debrisPlan',
  per: 'site',
  shown: false,
  first: true,
  keep: 2,
  reads: ['answer:debrisBlocks', 'setting:pushReachMeters', 'features:berm', 'features:heap'],
  compute(inputs): { done: DebrisPlan | null } {
    const blocks = inputs.answer('debrisBlocks') as DebrisBlocks | null;
    if (!blocks) return { done: null };
    const sinks = debrisSinks(inputs, blocks.frame);
    const sources = blocks.blocks.flatMap((block) => block.sources);
    const reach = inputs.settings.pushReachMeters;
    const { placed, left } = nearestFirst(sources, sinks, reach);
    const endless = sinks.map((sink) =>
      sink.feature.kind === 'berm' ? { ...sink, cubicMeters: Infinity } : sink,
    );
    const { placed: wanted } = nearestFirst(sources, endless, reach);
    const leftOverCubicMeters = left.reduce((sum, one) => sum + one, 0);
    return { done: { ...blocks, sinks, placed, leftOverCubicMeters, wanted } };
  },
};
