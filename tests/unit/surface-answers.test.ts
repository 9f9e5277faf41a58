import { describe, expect, it } from 'vitest';
import { answerPlan } from '../../geo/answers/answer-plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { defaultConditions } from '../../geo/plan/conditions.ts';
import { roundDegrees, type PlanFeature, type Position } from '../../geo/plan/feature.ts';
import { blankProperties } from '../../geo/plan/kinds.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { groundOf, neededFor } from '../answers-rig.ts';

/** A second elevation over the ground: tree tops before clearing, a heap after. */

const utm = { epsg: 26918, name: 'UTM 18N', datum: 'NAD83', proj: '+proj=utm +zone=18 +datum=NAD83 +units=m +no_defs' } as const; // prettier-ignore
const frame = openFrame(utm);
const place = { width: 160, height: 120, west: 500_000, north: 4_000_120, cellWidth: 1, cellHeight: 1 }; // prettier-ignore
const surfaceOf = (heightAt: (x: number, y: number) => number, said: object = {}): GroundInUse => {
  const data = Float32Array.from({ length: 160 * 120 }, (_, i) => {
    const [x, y] = [(i % 160) + 0.5, 120 - Math.floor(i / 160) - 0.5];
    return 200 + 0.05 * x + heightAt(x, y);
  });
  return groundOf(makeGrid(place, data, frame), frame, { verticalErrorMeters: 0.05, ...said });
};
const at = (x: number, y: number): Position => {
  const [lng, lat] = frame.toLngLat(500_000 + x, 4_000_000 + y);
  return [roundDegrees(lng), roundDegrees(lat)];
};
const box = (x: number, y: number, w: number, h: number): PlanFeature['geometry'] => ({
  type: 'Polygon',
  coordinates: [[at(x, y), at(x + w, y), at(x + w, y + h), at(x, y + h), at(x, y)]],
});
const feature = (id: string, kind: PlanFeature['kind'], geometry: PlanFeature['geometry'], properties: object) => ({ id, kind, name: id, geometry, properties, locked: false, hidden: false }) as PlanFeature; // prettier-ignore
const block = feature('t', 'timber-block', box(0, 0, 160, 120), {
  ...blankProperties('timber-block'),
  tally: [{ speciesGroup: 'pine', diameterMeters: 0.2, stemsPerHectare: 500, soldShare: 0 }],
});
const answers = (features: readonly PlanFeature[], surface: GroundInUse, ground = surfaceOf(() => 0)) =>
  answerPlan(
    { features, settings: defaultSettings, conditions: defaultConditions, rasters: { ground, surface } },
    neededFor('debris', 'canopyStems', 'timberDebris'),
  ); // prettier-ignore

describe('tree tops', () => {
  // Cones 12 m high on a lattice of 10 m: 16 × 12 of them, each alone in its window.
  const cones = (x: number, y: number) => Math.max(0, 12 - 3 * Math.hypot((x % 10) - 5, (y % 10) - 5)); // prettier-ignore
  it('are counted and suggest a tally', () => {
    const { value } = answers([block], surfaceOf(cones)).features['t']!.canopyStems!;
    expect(value!.tops).toBe(16 * 12);
    expect(value!.classes).toHaveLength(1);
    expect(value!.classes[0]!.stemsPerHectare).toBeCloseTo((192 * 10_000) / value!.areaSquareMeters, 6); // prettier-ignore
    expect(value!.classes[0]!.suggestedDiameterMeters!.likely).toBeGreaterThan(0.1);
  });
  it('are not looked for in a surface flown after clearing, nor in another frame', () => {
    const after = surfaceOf(cones, { clearing: 'after-clearing' });
    expect(answers([block], after).features['t']!.canopyStems).toBeNull();
    const zone17 = { ...utm, epsg: 26917, proj: utm.proj.replace('18', '17') };
    const other = surfaceOf(cones);
    const elsewhere = {
      ...other,
      grid: { ...other.grid, frame: zone17 },
      frame: openFrame(zone17),
    };
    const { value, findings } = answers([block], elsewhere).features['t']!.canopyStems!;
    expect(value).toBeNull();
    expect(findings.map(({ code }) => code)).toEqual(['surface-elsewhere']);
  });
});

it('a heap seen in the surface re-estimates the job as a taped one does', () => {
  // Hardy's paraboloid πhw²/8, 20 m wide and 4 m high: 628 m³.
  const bump = (x: number, y: number) => Math.max(0, 4 * (1 - ((x - 80) ** 2 + (y - 60) ** 2) / 100)); // prettier-ignore
  const surface = surfaceOf(bump, { clearing: 'after-clearing' });
  const heap = feature('h', 'heap', box(68, 48, 24, 24), {
    ...blankProperties('heap'),
    taped: true,
  });
  const cleared = feature('c', 'clearing', box(0, 0, 80, 120), { clearedOn: '2026-11-02' });
  const { remeasured } = answers([block, heap, cleared], surface).site.debris!.value;
  expect(remeasured!.measured.likely / 628.3).toBeCloseTo(1, 2);
  expect(remeasured!.clearedShare).toBeCloseTo(0.5, 3);
  const none = answers(
    [block, heap, cleared],
    surfaceOf(() => 0, { clearing: 'after-clearing' }),
  );
  expect(none.site.debris!.findings.map(({ code }) => code)).toContain('tape-a-heap');
});
