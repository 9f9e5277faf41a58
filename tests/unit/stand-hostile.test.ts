import { describe, expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import { answerPlan } from '../../geo/answers/answer-plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { zoneFrame } from '../../geo/frame/zone-frame.ts';
import type { Conditions } from '../../geo/plan/conditions.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import { defaultSettings, type Settings } from '../../geo/plan/settings.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { groundOf, neededFor, placeFrom, plotOf, standOf } from '../answers-rig.ts';

/** Stands, hours and places that a plan may hold and that nothing can be worked out for. */

const names = ['standWinds', 'standSeasons', 'standLanes', 'eveningPools', 'standShots', 'standGround']; // prettier-ignore
const demo = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
  settings: Settings;
  conditions: Conditions;
};

/** A slope of 5 % to the south about a place, 600 m wide, with a plot in its middle. */
function site(lng: number, lat: number) {
  const frame = zoneFrame(lng, lat);
  const [x, y] = frame.fromLngLat(lng, lat);
  const shape = { width: 300, height: 300, west: x - 300, north: y + 300, cellWidth: 2, cellHeight: 2 }; // prettier-ignore
  const data = Float32Array.from({ length: 90_000 }, (_, i) => 200 - 0.1 * Math.floor(i / 300));
  const bounds = [lng - 0.01, lat - 0.005, lng + 0.01, lat + 0.005] as const;
  const ground = groundOf(makeGrid(shape, data, frame), frame, { bounds: [...bounds] });
  const at = (east: number, north: number): Position => placeFrom([lng, lat], east, north);
  const ring = (west: number, south: number, east: number, north: number) =>
    [[west, south], [east, south], [east, north], [west, north]].map(([e, n]) => at(e!, n!)); // prettier-ignore
  return { ground, at, ring, plot: plotOf('plot', [ring(-40, -40, 40, 40)]) };
}

function answers(
  ground: GroundInUse | null,
  features: readonly PlanFeature[],
  settings: Partial<Settings> = {},
  conditions: Partial<Conditions> = {},
) {
  return answerPlan(
    {
      features,
      settings: { ...defaultSettings, windStations: demo.settings.windStations, ...settings },
      conditions: { ...demo.conditions, wind: { fromDegrees: 270, speedMetersPerSecond: 4 }, ...conditions }, // prettier-ignore
      rasters: ground ? { ground } : {},
    },
    neededFor(...names),
  );
}

const feature = (
  id: string,
  kind: PlanFeature['kind'],
  geometry: PlanFeature['geometry'],
  properties: object = {},
) => ({ ...plotOf(id, []), kind, geometry, properties }) as unknown as PlanFeature;
const access = (at: Position) => feature('gate', 'access-point', { type: 'Point', coordinates: at }, { surface: null, notes: null }); // prettier-ignore
const noGo = (ring: readonly Position[]) =>
  feature('closed', 'no-go', { type: 'Polygon', coordinates: [[...ring, ring[0]!]] }, { reason: null }); // prettier-ignore

const codes = (
  found: { readonly findings: readonly { readonly code: string }[] } | null | undefined,
) => (found?.findings ?? []).map(({ code }) => code);

describe('a stand off the site', () => {
  const { ground, at, plot } = site(-75, 36.14);

  test('off the ground, near enough for its scent: judged by wind alone, and said to be off it', () => {
    // 400 m west of the middle: 100 m off the ground, 360 m from the plot's edge; range made longer.
    const far = standOf('far', at(-400, 0));
    const still = { wind: { fromDegrees: null, speedMetersPerSecond: 0 }, hourUtc: '2026-11-14T22:20:00Z' }; // prettier-ignore
    const all = answers(ground, [plot, far], { scentRangeMeters: 500 });
    expect(all.site.standWinds!.value.stands['far']!.verdict).toBe('does-not');
    expect(codes(all.features['far']!.standGround)).toContain('off-ground');
    const calm = answers(ground, [plot, far], { scentRangeMeters: 500 }, still);
    const { doubts, pools } = calm.site.standWinds!.value.stands['far']!;
    expect([doubts.includes('slope-air'), pools]).toEqual([false, []]);
    expect(calm.site.standSeasons!.value.stands['far']!.season.evening.works).toBeGreaterThan(0);
  });

  test('a continent away, and with no ground at all', () => {
    const away = standOf('away', [10, 50]);
    const both = answers(ground, [plot, away, access(at(0, 200))], { lanesFor: 'away' });
    expect(both.site.standWinds!.value.stands['away']?.verdict ?? 'works').toBe('works');
    expect(both.site.standLanes?.value.winds.every(({ best }) => best === null) ?? true).toBe(true);
    const bare = answers(null, [plot, standOf('here', at(-60, 0))], { lanesFor: 'here' });
    expect(bare.site.standWinds!.value.stands['here']!.verdict).toBe('does-not');
    expect(bare.site.eveningPools ?? null).toBeNull();
    expect(bare.site.standLanes ?? null).toBeNull();
  });
});

describe('ways in that there are not', () => {
  const { ground, at, ring, plot } = site(-75, 36.14);
  const stand = standOf('stand', at(60, 0));
  const lanesWith = (more: readonly PlanFeature[]) =>
    answers(ground, [plot, stand, ...more], { lanesFor: 'stand' }).site.standLanes!;

  test('no access point: said, and none is made up', () => {
    const lanes = lanesWith([]);
    expect(codes(lanes)).toEqual(['no-access-point']);
    expect(lanes.value).toMatchObject({ winds: [], out: null });
  });

  test('a stand inside no-go ground: no way to it on any wind', () => {
    const shut = lanesWith([access(at(0, 200)), noGo(ring(40, -20, 90, 20))]);
    expect(codes(shut)).toContain('no-lane');
    expect(shut.value.winds.length).toBeGreaterThan(0);
    for (const { best, noLane } of shut.value.winds) {
      expect([best, noLane]).toEqual([null, 'stand-barred']);
    }
    expect(shut.value.out).toBeNull();
    const open = lanesWith([access(at(0, 200))]);
    expect(open.value.winds.some(({ best }) => best !== null)).toBe(true);
  });

  test('an access point inside no-go ground', () => {
    const shut = lanesWith([access(at(0, 200)), noGo(ring(-20, 180, 20, 220))]);
    for (const { noLane } of shut.value.winds) expect(noLane).toBe('access-barred');
  });
});

test('a day without sunrise: 78° north in December, and without sunset in June', () => {
  const { ground, at, plot } = site(15.6, 78.2);
  const stand = standOf('stand', at(-60, 0));
  for (const hourUtc of ['2026-12-21T12:00:00Z', '2026-06-21T23:00:00Z']) {
    const calm = { fromDegrees: null, speedMetersPerSecond: 0 };
    for (const wind of [calm, { fromDegrees: 270, speedMetersPerSecond: 4 }]) {
      const { site: all } = answers(ground, [plot, stand, access(at(0, 200))], { lanesFor: 'stand' }, { wind, hourUtc }); // prettier-ignore
      const now = all.standWinds!.value.stands['stand']!;
      expect(now.verdict).toBe(wind === calm ? 'marginal' : 'does-not');
      expect(now.pools).toEqual([]);
      const ways = all.standLanes!.value.winds.flatMap(({ best }) => best ?? []);
      expect(ways.length).toBeGreaterThan(0);
      for (const { sit } of ways) expect(sit).toBeNull();
      // Of the record only the hours of days with a sunrise are judged.
      const hours = all.standSeasons?.value.hours ?? 0;
      expect(hours).toBeGreaterThan(0);
      expect(hours).toBeLessThan(900);
    }
  }
});
