import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { cabin, dwelling, parcel, plots, type Place } from '../../fixtures/generator/layout.ts';
import { ORIGIN, demoFrame } from '../../fixtures/generator/plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { isInPolygon } from '../../geo/plan/point-in-polygon.ts';
import { shapeDistance } from '../../geo/plan/shape-distance.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import { answersOf, groundOf, neededFor, standOf } from '../answers-rig.ts';

// Trade notes Q20: the three best places with why and why not, the parts kept apart.
const plan = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
  features: PlanFeature[];
  settings: Partial<Settings>;
};
let ground: GroundInUse;
beforeAll(async () => {
  const bytes = new Uint8Array(readFileSync('fixtures/demo/ground.tif'));
  const opening = await openGround([memorySource('ground.tif', bytes)]);
  if (opening.kind !== 'opened') throw new Error(opening.kind);
  ground = groundOf(opening.grid, openFrame(opening.grid.frame), opening.draft);
});

/** The demo with one of its plots; the others count as bedding areas, to keep clear of all the same. */
const withPlot = (id: string) =>
  plan.features.map((one) =>
    one.kind === 'plot' && one.id !== id ? { ...one, kind: 'bedding-area', properties: {} } : one,
  ) as PlanFeature[];
const site = (features: readonly PlanFeature[], settings: Partial<Settings> = {}, asked = 'siting') => // prettier-ignore
  answersOf(features, ground, { ...plan.settings, wantsSiting: true, ...settings }, neededFor(asked)).site; // prettier-ignore

/** Metres that the rounding of degrees and the frame's scale may take. */
const HAIR = 0.1;
const local = (at: readonly [number, number]): Place => {
  const [x, y] = demoFrame.fromLngLat(at[0], at[1]);
  return [x - ORIGIN.east, y - ORIGIN.north];
};

describe('where a stand could go', () => {
  it('round plot B: on the tract, 500 ft from the dwelling, in the band, and as good as a stand set there', () => {
    const { siting } = site(withPlot('B'));
    const [sites] = siting!.value.plots;
    expect(sites).toMatchObject({ plotId: 'B', weapon: 'shotgun' });
    expect(sites!.places).toHaveLength(3);
    const spots = sites!.places.map(({ at }) => local(at));
    for (const at of spots) {
      expect(isInPolygon(at, [parcel])).toBe(true);
      expect(Math.hypot(at[0] - dwelling[0], at[1] - dwelling[1]) / 0.9996).toBeGreaterThan(152.4 - HAIR); // prettier-ignore
      expect(Math.hypot(at[0] - cabin[0]![0], at[1] - cabin[0]![1])).toBeGreaterThan(152.4);
      const off = shapeDistance({ kind: 'point', paths: [[at]] }, { kind: 'area', paths: [plots.B] }).meters; // prettier-ignore
      expect(off).toBeGreaterThan(2 - HAIR);
      expect(off).toBeLessThan(40 + HAIR);
      for (const other of spots) {
        if (other !== at) expect(Math.hypot(at[0] - other[0], at[1] - other[1])).toBeGreaterThan(40 - HAIR); // prettier-ignore
      }
    }
    const scores = sites!.places.map(({ parts }) => parts.hours * parts.seen * parts.lane);
    expect(scores).toEqual([...scores].sort((a, b) => b - a));
    // A stand there has the same hours; the slope's own air, which siting leaves out, moves some.
    const [best] = sites!.places;
    const there = { ...standOf('new', [...best!.at]), properties: { facingDegrees: null, seatHeightMeters: 3.6576, seat: 'ladder-stand', weapon: null } } as PlanFeature; // prettier-ignore
    const season = site([...withPlot('B'), there], {}, 'standSeasons').standSeasons!.value.stands['new']!; // prettier-ignore
    const { morning, evening } = season.season;
    const all = morning.works + morning.marginal + morning.doesNot + evening.works + evening.marginal + evening.doesNot; // prettier-ignore
    expect(Math.abs((morning.works + evening.works) / all - best!.parts.hours)).toBeLessThan(0.1);
    const works = season.directions.flatMap(({ verdict }, i) => (verdict === 'works' ? [i] : []));
    expect(best!.worksOn).toEqual(works);
  });

  it('not asked, no wind record, no access point, a plot shut in by no-go ground', () => {
    expect(site(plan.features, { wantsSiting: false }).siting).toBeFalsy();
    const calm = site(plan.features, { windStations: [] }).siting!;
    expect(calm.findings.map(({ code }) => code)).toEqual(['siting-no-wind']);
    const lngLat = (x: number, y: number) => demoFrame.toLngLat(ORIGIN.east + x, ORIGIN.north + y);
    const box = [lngLat(-50, 500), lngLat(300, 500), lngLat(300, 770), lngLat(-50, 770), lngLat(-50, 500)]; // prettier-ignore
    const shut = withPlot('C')
      .filter(({ kind }) => kind !== 'access-point' && kind !== 'property-line')
      .map((one) => (one.id === 'wetland' ? { ...one, geometry: { type: 'Polygon', coordinates: [box] } } : one)) as PlanFeature[]; // prettier-ignore
    const none = site(shut).siting!;
    expect(none.value).toMatchObject({ knowsLanes: false, plots: [{ plotId: 'C', places: [] }] });
    expect(none.findings.map(({ code }) => code)).toEqual(['siting-nowhere', 'siting-no-access']);
  });
});
