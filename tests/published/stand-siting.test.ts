import { beforeAll, describe, expect, it } from 'vitest';
import { cabin, dwelling, parcel, plots, type Place } from '../../fixtures/generator/layout.ts';
import { ORIGIN, demoFrame } from '../../fixtures/generator/plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { AnswerGraph } from '../../geo/answers/graph.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { isInPolygon } from '../../geo/plan/point-in-polygon.ts';
import { shapeDistance } from '../../geo/plan/shape-distance.ts';
import type { SitePlace } from '../../geo/answers/shot-answers.ts';
import { defaultSettings, type Settings } from '../../geo/plan/settings.ts';
import { finish } from '../../geo/work.ts';
import type { Weapon } from '../../geo/plan/shot-rules.ts';
import { answersOf, bermOf, neededFor, standOf } from '../answers-rig.ts';
import { demoGround, demoPlan, demoPlace } from '../demo-answers.ts';

// Trade notes Q20: the three best places with why and why not, the parts kept apart.
let ground: GroundInUse;
beforeAll(async () => {
  ground = await demoGround('ground.tif');
});

/** The demo with one of its plots; the others count as bedding areas, to keep clear of all the same. */
const withPlot = (id: string) =>
  demoPlan.features.map((one) =>
    one.kind === 'plot' && one.id !== id ? { ...one, kind: 'bedding-area', properties: {} } : one,
  ) as PlanFeature[];
const site = (features: readonly PlanFeature[], settings: Partial<Settings> = {}, asked = 'siting') => // prettier-ignore
  answersOf(features, ground, { ...demoPlan.settings, wantsSiting: true, ...settings }, neededFor(asked)).site; // prettier-ignore

/** A stand as the page sets one at a place. */
const setAt = ({ at, facingDegrees }: Pick<SitePlace, 'at' | 'facingDegrees'>, weapon: Weapon) =>
  ({ ...standOf('new', [at[0], at[1]]), properties: { facingDegrees, seatHeightMeters: 3.6576, seat: 'ladder-stand', weapon } }) as PlanFeature; // prettier-ignore

/** Metres that the rounding of degrees and the frame's scale may take. */
const HAIR = 0.1;
const local = (at: readonly [number, number]): Place => {
  const [x, y] = demoFrame.fromLngLat(at[0], at[1]);
  return [x - ORIGIN.east, y - ORIGIN.north];
};

/**
 * A stand set at a place has the hours, winds and stops that are said of the place. Tells whether its
 * evening air runs into a pool with protected ground in it.
 */
function expectSame(features: readonly PlanFeature[], place: SitePlace, weapon: Weapon): boolean {
  const all = [...features, setAt(place, weapon)];
  const { site: said, features: shots } = answersOf(all, ground, demoPlan.settings, neededFor('standSeasons', 'standShots')); // prettier-ignore
  const { stands, hours } = said.standSeasons!.value;
  const { season } = stands['new']!;
  expect({ morning: season.morning, evening: season.evening }).toEqual(place.season);
  expect(place.parts.hours).toBe((season.morning.works + season.evening.works) / hours);
  // Half of the hours or more, by the hours of the table by wind.
  const half = season.directions.flatMap(({ morning: a, evening: b }, i) => (2 * (a.works + b.works) >= a.works + a.marginal + a.doesNot + b.works + b.marginal + b.doesNot ? [i] : [])); // prettier-ignore
  expect(place.worksOn).toEqual(half);
  const { value, findings } = shots['new']!.standShots!;
  const bare = (others: SitePlace['inLine']) => others.map(({ otherId, unitsAway, way }) => [otherId, unitsAway, way]); // prettier-ignore
  expect(bare(value.others)).toEqual(bare(place.inLine));
  // The only stop that a place may lead to is the one that is said of it.
  const stops = findings.filter(({ level }) => level === 'stop').map(({ code }) => code);
  expect(stops).toEqual(place.inLine.map(() => 'stand-in-arc'));
  const pools = said.eveningPools?.value.stands['new'] ?? [];
  return pools.some(({ grounds }) => grounds.length > 0);
}

describe('where a stand could go', () => {
  it('round plot B: on the tract, 500 ft from the dwelling, in the band, those in nobody’s way first', () => {
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
        // 75 yd apart, or a quarter turn round the plot; both from its corners by hand.
        const middle = [0, 1].map((k) => plots.B.slice(0, -1).reduce((sum, p) => sum + p[k]!, 0) / (plots.B.length - 1)); // prettier-ignore
        const turn = Math.abs(((180 / Math.PI) * (Math.atan2(at[1] - middle[1]!, at[0] - middle[0]!) - Math.atan2(other[1] - middle[1]!, other[0] - middle[0]!)) + 540) % 360 - 180); // prettier-ignore
        if (other !== at && turn < 85) expect(Math.hypot(at[0] - other[0], at[1] - other[1])).toBeGreaterThan(75 * 0.9144 - HAIR); // prettier-ignore
      }
    }
    const clear = sites!.places.filter(({ inLine }) => inLine.length === 0);
    expect(sites!.places.slice(0, clear.length)).toEqual(clear);
    const scores = clear.map(({ parts }) => parts.hours * parts.seen * parts.lane);
    expect(scores).toEqual([...scores].sort((a, b) => b - a));
  });

  it.each(['A', 'B', 'C'])('round plot %s: a stand set at each place says the same of it', (id) => {
    const features = withPlot(id);
    const [sites] = site(features).siting!.value.plots;
    expect(sites!.places.length).toBeGreaterThan(0);
    for (const place of sites!.places) expectSame(features, place, sites!.weapon);
  });

  it('so it does where evening air stands behind a berm', () => {
    // The berm of trade notes §6.6 round the low edge of plot A: air from the bench above stands behind it.
    const [foot, half] = [0.3048, 12 * 0.3048];
    const line = ([[-120 - half, 550], [-120 - half, 566 + half], [50 + half, 566 + half], [50 + half, 550]] as const).map(([c, d]) => demoPlace(c, d)); // prettier-ignore
    const berm = bermOf('dam', line);
    const dam = { ...berm, properties: { ...berm.properties, baseWidthMeters: 2 * half, heightMeters: 9 * foot } } as PlanFeature; // prettier-ignore
    const features = [...withPlot('A').filter(({ kind }) => kind !== 'berm'), dam];
    const [sites] = site(features).siting!.value.plots;
    const held = sites!.places.filter((place) => expectSame(features, place, sites!.weapon));
    expect(held.length).toBeGreaterThan(0);
  });

  it('a stand 18 yd from the best place is named, and the places keep off it and out of its way', () => {
    const bare = withPlot('B').filter(({ kind }) => kind !== 'stand');
    const free = site(bare).siting!.value.plots[0]!;
    expect(free.standThere).toBeNull();
    expect(free.places.every(({ inLine }) => inLine.length === 0)).toBe(true);
    const top = free.places.reduce((a, b) => (a.parts.hours * a.parts.seen * a.parts.lane >= b.parts.hours * b.parts.seen * b.parts.lane ? a : b)); // prettier-ignore
    const [x, y] = local(top.at);
    const other: Place = [x + 16.5, y];
    const { siting } = site([...bare, setAt({ ...top, at: demoFrame.toLngLat(ORIGIN.east + other[0], ORIGIN.north + other[1]) }, 'rifle')]); // prettier-ignore
    const { standThere, places } = siting!.value.plots[0]!;
    // 16.5 m of the frame are 18.05 yd.
    expect(standThere).toEqual({ standId: 'new', unitsAway: 18 });
    expect(siting!.findings).toMatchObject([{ code: 'siting-stand-there', about: ['B'], values: { unitsAway: 18, stand: 'new' } }]); // prettier-ignore
    for (const { at } of places) {
      expect(Math.hypot(local(at)[0] - other[0], local(at)[1] - other[1])).toBeGreaterThan(40 - HAIR); // prettier-ignore
    }
    // It faces the plot, and so does every place: those it cannot see in its arc come first.
    const inLine = places.map((place) => place.inLine.length > 0);
    expect(inLine).toEqual([...inLine].sort((a, b) => Number(a) - Number(b)));
    // A bow looks a third as far: fewer are in line.
    const bow = setAt({ ...top, at: demoFrame.toLngLat(ORIGIN.east + other[0], ORIGIN.north + other[1]) }, 'bow'); // prettier-ignore
    const few = site([...bare, bow]).siting!.value.plots[0]!.places;
    const count = (list: typeof places) => list.reduce((sum, one) => sum + one.inLine.length, 0);
    expect(count(few)).toBeLessThanOrEqual(count(places));
  });

  it('a stand that is moved does not have the band judged again', () => {
    const graph = new AnswerGraph(neededFor('siting'));
    graph.setRasters({ ground });
    graph.setSettings({ ...defaultSettings, ...demoPlan.settings, wantsSiting: true });
    graph.setFeatures(withPlot('B'));
    const runs = () => {
      const names: string[] = [];
      for (let job = graph.next(() => {}); job; job = graph.next(() => {})) {
        names.push(job.name);
        graph.done(job, finish(job.begin()), () => {});
      }
      return names;
    };
    expect(runs()).toEqual(expect.arrayContaining(['laneSite', 'siteBands', 'siting']));
    const [stand] = demoPlan.features.filter(({ kind }) => kind === 'stand');
    const [lng, lat] = stand!.geometry.coordinates as [number, number];
    graph.putFeatures({ [stand!.id]: { ...stand!, geometry: { type: 'Point', coordinates: [lng + 1e-4, lat] } } }); // prettier-ignore
    // The place of the site is the middle of its ground, which no stand moves.
    expect(runs().sort()).toEqual(['sitePlace', 'siting']);
    const note = demoPlan.features.find(({ kind }) => kind === 'note' || kind === 'lane');
    graph.putFeatures({ more: { ...note!, id: 'more', kind: 'note', geometry: { type: 'Point', coordinates: [lng, lat] }, properties: { text: '' } } as PlanFeature }); // prettier-ignore
    expect(runs()).toEqual([]);
  });

  it('not asked, no wind record, no access point, a plot shut in by no-go ground', () => {
    expect(site(demoPlan.features, { wantsSiting: false }).siting).toBeFalsy();
    const calm = site(demoPlan.features, { windStations: [] }).siting!;
    expect(calm.findings.map(({ code }) => code)).toEqual(['siting-no-wind']);
    const lngLat = (x: number, y: number) => demoFrame.toLngLat(ORIGIN.east + x, ORIGIN.north + y);
    const box = [lngLat(-50, 500), lngLat(300, 500), lngLat(300, 770), lngLat(-50, 770), lngLat(-50, 500)]; // prettier-ignore
    const shut = withPlot('C')
      .filter(({ kind }) => kind !== 'access-point' && kind !== 'property-line')
      .map((one) => (one.id === 'wetland' ? { ...one, geometry: { type: 'Polygon', coordinates: [box] } } : one)) as PlanFeature[]; // prettier-ignore
    expect(site(demoPlan.features.filter(({ kind }) => kind !== 'plot')).siting!.findings.map(({ code }) => code)).toEqual(['siting-no-plot']); // prettier-ignore
    const none = site(shut).siting!;
    expect(none.value).toMatchObject({ knowsLanes: false, plots: [{ plotId: 'C', places: [] }] });
    expect(none.findings.map(({ code }) => code)).toEqual(['siting-nowhere', 'siting-no-access']);
  });
});
