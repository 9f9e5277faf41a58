import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { hoursOf, windName, windTable } from '../../app/words/wind-table.ts';
import { answerPlan } from '../../geo/answers/answer-plan.ts';
import type { Conditions } from '../../geo/plan/conditions.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { defaultSettings, type Settings } from '../../geo/plan/settings.ts';
import { shareThatWorks, type PartHours, type VerdictHours } from '../../geo/wind/stand-season.ts';
import { neededFor } from '../answers-rig.ts';

/** The table by wind against the share in the sentence above it, on the demo's record of five seasons. */

const plan = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
  features: PlanFeature[];
  settings: Partial<Settings>;
  conditions: Conditions;
};
const { seasons, stands } = answerPlan(
  { ...plan, settings: { ...defaultSettings, ...plan.settings }, rasters: {} },
  neededFor('standSeasons'),
).site.standSeasons!.value;

const parts = ['morning', 'evening'] as const;
const add = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);
const all = ({ works, marginal, doesNot }: VerdictHours) => works + marginal + doesNot;

test.each(Object.keys(stands))('%s: by wind and in all, the same hours work', (id) => {
  const { season } = stands[id]!;
  const table = windTable(season, seasons);
  for (const part of parts) {
    const column = table.rows.map(({ hours }) => hours[part]);
    const shown = table.all[part];
    expect(add(column.map(({ works }) => works))).toBe(shown.works);
    expect(add(column.map(({ hours }) => hours))).toBe(shown.hours);
    expect(Math.abs(shown.hours - all(season[part]) / seasons)).toBeLessThan(1.01);
    // The sentence has the share in whole percents; the table may be half an hour off it.
    expect(Math.abs(shown.works / shown.hours - shareThatWorks(season[part]))).toBeLessThan(1 / shown.hours); // prettier-ignore
    for (const { wind, hours } of table.rows) {
      const exact: PartHours = typeof wind === 'number' ? season.directions[wind]! : season[wind as 'calm' | 'variable']; // prettier-ignore
      expect(Math.abs(hours[part].works - exact[part].works / seasons)).toBeLessThan(1);
      expect(hours[part].works).toBeLessThanOrEqual(hours[part].hours);
    }
  }
});

test('the demo has a stand with a wind on which only some hours work, and the table says so', () => {
  const mixed = Object.values(stands).flatMap(({ season }) => windTable(season, seasons).rows.filter(({ hours: { morning } }) => morning.works > 0 && morning.works < morning.hours)); // prettier-ignore
  expect(mixed.length).toBeGreaterThan(0);
  expect(hoursOf({ works: 20, hours: 63 })).toBe('20 of 63 h');
  expect(hoursOf({ works: 0, hours: 0 })).toBe('–');
  expect([windName(3), windName('calm')]).toEqual(['ENE', 'calm']);
});
