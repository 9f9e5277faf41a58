import { beforeAll, describe, expect, test } from 'vitest';
import { answerPlan } from '../../geo/answers/answer-plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import type { Conditions } from '../../geo/plan/conditions.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
import { neededFor, standOf } from '../answers-rig.ts';
import { demoGround, demoPlan, demoPlace } from '../demo-answers.ts';
import { gapInLowBerm, lowBerm } from '../low-berm.ts';

/**
 * "Evening air pools behind a berm as water does: reuse the fill" (trade notes §6.8), with the berm of
 * §6.6 on the demo's finish grade: 9 ft high round the low edge of plot A it dams 0.36 m of water, and
 * with one 23-ft gap at c = -45 none. A stand on the bench above the plot drains into it.
 */
const calm = { fromDegrees: null, speedMetersPerSecond: 0 } as const;
const evening = '2026-11-14T22:20:00Z';

const gap = gapInLowBerm(-45, 23);

let ground: GroundInUse;
beforeAll(async () => {
  ground = await demoGround('finish.tif');
});

/** Above the middle of the plot, at its upper edge. */
const above = standOf('above', demoPlace(-35, 482));
const answersWith = (
  more: readonly PlanFeature[],
  wind: Conditions['wind'] = calm,
  hourUtc = evening,
  names: readonly string[] = ['standWinds'],
) =>
  answerPlan(
    {
      features: [...demoPlan.features.filter(({ kind }) => kind !== 'berm'), above, ...more],
      settings: { ...defaultSettings, ...demoPlan.settings },
      conditions: { ...demoPlan.conditions, wind, hourUtc },
      rasters: { ground },
    },
    neededFor(...names),
  ).site;

describe('a berm round the low edge of plot A on a still evening', () => {
  test('holds the air of the stand above, over the plot; the stand does not work, at low confidence', () => {
    const { eveningPools, standWinds } = answersWith([lowBerm([])]);
    const [pool] = eveningPools!.value.stands['above']!;
    expect(pool!.heldBy).toEqual(['dam']);
    expect(Math.abs(pool!.depthMeters / 0.36 - 1)).toBeLessThan(0.1);
    expect(pool!.grounds.map(({ id }) => id)).toEqual(['A']);
    // Three of the pool's four sides are the plot's own edge.
    expect(pool!.grounds[0]!.share).toBeGreaterThan(0.7);
    const now = standWinds!.value.stands['above']!;
    expect(now.verdict).toBe('does-not');
    expect(now.doubts).toEqual(expect.arrayContaining(['slope-air', 'pooled-air']));
    const found = standWinds!.findings.find(({ code, about }) => code === 'evening-air-pools' && about[0] === 'above'); // prettier-ignore
    expect(found).toMatchObject({ level: 'caution', about: ['above', 'dam', 'A'] });
    // B1 lies aside; A2, at the berm's foot outside, drains mostly away from it.
    expect(eveningPools!.value.stands['B1']).toBeUndefined();
    expect(eveningPools!.value.stands['A2']?.[0]?.share ?? 0).toBeLessThan(0.5);
  });

  test('a gap where the notes have it, or no berm, lets it out', () => {
    for (const more of [[lowBerm([gap])], []]) {
      expect(answersWith(more, calm, evening, ['eveningPools']).eveningPools!.value.stands['above']).toBeUndefined(); // prettier-ignore
    }
  });

  test('not in wind, nor by day; in the season on still evenings alone', () => {
    const windy = answersWith([lowBerm([])], { fromDegrees: 225, speedMetersPerSecond: 5 });
    expect(windy.standWinds!.value.stands['above']!.pools).toEqual([]);
    const noon = answersWith([lowBerm([])], calm, '2026-11-14T17:00:00Z');
    expect(noon.standWinds!.value.stands['above']!.pools).toEqual([]);
    const [without, held] = [[lowBerm([gap])], [lowBerm([])]].map((more) => {
      const { standSeasons } = answersWith(more, calm, evening, ['standSeasons']);
      return standSeasons!.value.stands['above']!.season;
    });
    const all = ({ works, marginal, doesNot }: NonNullable<typeof held>['evening']) => works + marginal + doesNot; // prettier-ignore
    expect(all(held!.evening)).toBe(all(without!.evening));
    expect(held!.evening.doesNot).toBeGreaterThanOrEqual(without!.evening.doesNot);
    expect(held!.evening.works).toBeLessThanOrEqual(without!.evening.works);
    // Up-slope air, while the sun is still on the slope, runs into no pool.
    expect(held!.calm.evening.works).toBeLessThanOrEqual(without!.calm.evening.works);
    // A steady wind hour is judged as before.
    expect(held!.directions[10]!.evening.works).toBeLessThanOrEqual(without!.directions[10]!.evening.works); // prettier-ignore
  });

  test('the way out at dark gives away more where the walker’s air runs into the pool', () => {
    const out = (more: readonly PlanFeature[]) =>
      answerPlan(
        {
          features: [...demoPlan.features.filter(({ kind }) => kind !== 'berm'), above, ...more],
          settings: { ...defaultSettings, ...demoPlan.settings, lanesFor: 'above' },
          conditions: demoPlan.conditions,
          rasters: { ground },
        },
        neededFor('standLanes'),
      ).site.standLanes!.value.out!;
    const [free, held] = [out([lowBerm([gap])]), out([lowBerm([])])];
    expect(held.scentedMeters).toBeGreaterThanOrEqual(free.scentedMeters);
    expect(held.exposed.some(({ why }) => why === 'scent')).toBe(true);
  });
});
