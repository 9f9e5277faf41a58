import type { PlanFeature } from '../plan/feature.ts';
import type { SiteDefinition } from './definition.ts';
import { fingerprint } from './fingerprint.ts';

/**
 * Clearings and plots where the rain is to fall on cleared ground, else none: only then does an edit
 * of a plot make the storm stale.
 */
export const clearedOutlines: SiteDefinition = {
  name: 'clearedOutlines',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['features:plot', 'features:clearing', 'setting:rainFallsOn'],
  compute(inputs): { done: readonly PlanFeature[] } {
    if (inputs.settings.rainFallsOn !== 'cleared') return { done: [] };
    return { done: [...inputs.features('clearing'), ...inputs.features('plot')] };
  },
  seenAs(value) {
    return (value as readonly PlanFeature[])
      .map(({ geometry }) => fingerprint(geometry))
      .sort()
      .join(',');
  },
};
