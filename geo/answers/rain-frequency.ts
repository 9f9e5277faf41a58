import { readRainTable } from '../formats/rain-table.ts';
import type { RainTable } from '../plan/rain-table.ts';
import type { Problem } from '../result.ts';
import type { Inputs, SiteDefinition } from './definition.ts';

/** The plan's rainfall table, or what is wrong with it; both null where it has none. */
export interface RainFrequency {
  readonly table: RainTable | null;
  readonly problem: Problem | null;
}

export const rainFrequency: SiteDefinition = {
  name: 'rainFrequency',
  per: 'site',
  shown: false,
  reads: ['setting:rainTable'],
  compute({ settings }): { done: RainFrequency } {
    if (settings.rainTable === '') return { done: { table: null, problem: null } };
    const read = readRainTable('the rainfall table of the plan', settings.rainTable);
    return {
      done: read.ok ? { table: read.value, problem: null } : { table: null, problem: read.problem },
    };
  },
};

export function rainFrequencyOf(inputs: Inputs): RainFrequency {
  return inputs.answer('rainFrequency') as RainFrequency;
}
