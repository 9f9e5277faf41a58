import type { SiteDefinition } from './definition.ts';

/**
 * Read by answers that can wait until the water is at rest: they are begun when the storm is
 * answered, and no rain makes them stale.
 */
export const afterStorm: SiteDefinition = {
  name: 'afterStorm',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['answer:storm'],
  compute: () => ({ done: true }),
  seenAs: () => 'answered',
};
