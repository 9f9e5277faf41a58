import { describe, expect, it } from 'vitest';
import { definitions } from '../../geo/answers/definitions.ts';
import { AnswerGraph } from '../../geo/answers/graph.ts';
import { crossingStations, gapBySeat, stretchesFacing, stretchesInside } from '../../geo/debris/gap-needs.ts'; // prettier-ignore
import { defaultConditions } from '../../geo/plan/conditions.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
import { blankProperties } from '../../geo/plan/kinds.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { answersOf, bermOf, neededFor, placeFrom, standOf } from '../answers-rig.ts';

// All by hand: a berm 100 m long along x, and one bent at a right angle.
const straight: XY[] = [
  [0, 0],
  [100, 0],
];
const bent: XY[] = [
  [0, 0],
  [50, 0],
  [50, 50],
];

describe('where things meet a berm', () => {
  it('crosses where lines cross, and nowhere where they touch at the start or run along', () => {
    const across = (x: number): XY[] => [
      [x, -10],
      [x, 10],
    ];
    expect(crossingStations(straight, across(40))).toEqual([40]);
    expect(crossingStations(bent, [[40, 25], [60, 25]])).toEqual([75]); // prettier-ignore
    expect(crossingStations(straight, [[30, 0], [30, 9]])).toEqual([]); // prettier-ignore
    expect(crossingStations(straight, [[0, 0], [100, 0]])).toEqual([]); // prettier-ignore
  });
  it('finds the stretches inside an area', () => {
    const box: XY[] = [[20, -5], [35, -5], [35, 5], [20, 5]]; // prettier-ignore
    expect(stretchesInside(straight, [box], 1)).toEqual([[20, 35]]);
    expect(stretchesInside(straight, [box.map(([x, y]): XY => [x, y + 50])], 1)).toEqual([]);
  });
  it('bars what a seat looks straight through: 15° of square, in reach', () => {
    const [[from, to]] = stretchesFacing(straight, [50, 40], 90, 0.5) as [[number, number]];
    // 40 m off, so 40 × tan 15° = 10.7 m to either side.
    expect(from).toBeCloseTo(39.3, 0);
    expect(to).toBeCloseTo(60.7, 0);
    expect(stretchesFacing(straight, [50, 40], 30, 1)).toEqual([]);
  });
  it('puts a gap 15 to 30 yd from a seat, square to the wind, off what is barred', () => {
    const seat: XY = [50, 10];
    const station = gapBySeat(straight, seat, [0, 1], [[45, 55]], 1)!;
    const distance = Math.hypot(station - 50, 10);
    expect(distance).toBeGreaterThanOrEqual(13.7);
    expect(distance).toBeLessThanOrEqual(27.5);
    // Wind along y: the farthest place of the band is the most square to it.
    expect(Math.abs(station - 50)).toBeGreaterThan(24);
    expect(gapBySeat(straight, [50, 300], null, [], 1)).toBeNull();
  });
});

describe('gaps of a berm without ground', () => {
  const origin: [number, number] = [-93, 36];
  const place = (x: number, y: number) => placeFrom(origin, x, y);
  const asked = definitions.filter(({ per, name }) => per === 'site' || name === 'bermGaps');
  const berm = bermOf('b', [place(0, 0), place(120, 0)]);
  const lane: PlanFeature = {
    id: 'l',
    kind: 'lane',
    name: 'l',
    geometry: { type: 'LineString', coordinates: [place(30, -20), place(30, 20)] },
    properties: blankProperties('lane'),
    locked: false,
    hidden: false,
  };
  it('has one for the lane and the fewest for wildlife, and gets higher for them', () => {
    const { value, findings } = answersOf([berm, lane], null, {}, asked).features['b']!.bermGaps!;
    const reasons = value.gaps.map((gap) => gap.reasons.join());
    expect(reasons).toContain('lane');
    expect(value.gaps.find((gap) => gap.reasons.includes('lane'))!.stationMeters).toBeCloseTo(30, 3); // prettier-ignore
    // 150 ft (45.72 m) between gaps at most: 90 m are left beside the lane's.
    const ends = [0, ...value.gaps.map(({ stationMeters }) => stationMeters), value.lengthMeters];
    for (let i = 1; i < ends.length; i++) expect(ends[i]! - ends[i - 1]!).toBeLessThan(45.72 + 5);
    expect(value.section!.heightMeters).toBeGreaterThan(2.7);
    expect(findings.map(({ code }) => code)).toEqual(['gaps-wanted']);
  });
  it('asks for the same again once it has them, holding what it held', () => {
    const { value } = answersOf([berm, lane], null, {}, asked).features['b']!.bermGaps!;
    const properties = { ...berm.properties, gaps: value.gaps.map(({ stationMeters, widthMeters }) => ({ stationMeters, widthMeters })), ...value.section!, section: value.section!.shape }; // prettier-ignore
    delete (properties as { shape?: unknown }).shape;
    const again = { ...berm, properties } as PlanFeature;
    const { value: then, findings } = answersOf([again, lane], null, {}, asked).features['b']!.bermGaps!; // prettier-ignore
    const stations = (gaps: typeof value.gaps) => gaps.map(({ stationMeters }) => Number(stationMeters.toFixed(3))); // prettier-ignore
    expect(stations(then.gaps)).toEqual(stations(value.gaps));
    expect(then.section!.heightMeters).toBeCloseTo(value.section!.heightMeters, 6);
    expect(then.leftOverCubicMeters).toBe(0);
    expect(findings).toEqual([]);
  });
  it('is left alone by a wind that turns or freshens while no stand is near', () => {
    const settled: string[] = [];
    const graph = new AnswerGraph(neededFor('bermGaps'));
    graph.setSettings(defaultSettings);
    const run = (
      fromDegrees: number,
      speedMetersPerSecond: number,
      more: readonly PlanFeature[],
    ) => {
      settled.length = 0;
      graph.setConditions({ ...defaultConditions, wind: { fromDegrees, speedMetersPerSecond } });
      graph.setFeatures([berm, lane, ...more]);
      const settle = ({ name }: { readonly name: string }) => settled.push(name);
      for (let job = graph.next(settle); job; job = graph.next(settle)) {
        const work = job.begin();
        let step = work.next();
        while (!step.done) step = work.next();
        graph.done(job, step.value, settle);
      }
      return settled.includes('bermGaps');
    };
    const far = [standOf('s', place(60, 80))];
    const near = [standOf('s', place(60, 20))];
    expect(run(300, 4, far)).toBe(true);
    expect(run(90, 4, far)).toBe(false);
    expect(run(90, 4, near)).toBe(true);
    expect(run(90, 9, near)).toBe(false);
    expect(run(180, 9, near)).toBe(true);
  });
  it('says so where no gap may be', () => {
    const stands = [20, 60, 100].map((x) => standOf(`s${x}`, place(x, 85)));
    const { value, findings } = answersOf([berm, ...stands], null, {}, asked).features['b']!.bermGaps!; // prettier-ignore
    expect(value.gaps).toEqual([]);
    expect(findings.map(({ code }) => code)).toEqual(['gaps-barred']);
  });
});

describe('hostile berms', () => {
  const origin: [number, number] = [-93, 36];
  const place = (x: number, y: number) => placeFrom(origin, x, y);
  const block: PlanFeature = {
    id: 't',
    kind: 'timber-block',
    name: 't',
    geometry: {
      type: 'Polygon',
      coordinates: [[place(0, 0), place(100, 0), place(100, 60), place(0, 60), place(0, 0)]],
    },
    properties: {
      ...blankProperties('timber-block'),
      tally: [{ speciesGroup: 'pine', diameterMeters: 0.2, stemsPerHectare: 900, soldShare: 0 }],
    },
    locked: false,
    hidden: false,
  };
  const of = (line: readonly [number, number][], properties: object = {}) => {
    const drawn = bermOf('b', line);
    const berm = { ...drawn, properties: { ...drawn.properties, ...properties } } as PlanFeature;
    const answers = answersOf([block, berm], null, {}, neededFor('bermHolds'));
    return answers.features['b']!.bermHolds!.findings.map(({ code }) => code);
  };
  it('each says in words what is wrong with it', () => {
    expect(of([place(0, -20), place(50, -20), place(25, 0), place(25, -40)])).toContain('line-crosses-itself'); // prettier-ignore
    expect(of([place(0, -10), place(4, -10)])).toContain('berm-shorter-than-ends');
    expect(of([place(0, 5000), place(100, 5000)])).toEqual(['berm-out-of-reach']);
    expect(of([place(0, -10), place(50, -10)], { gaps: [{ stationMeters: 25, widthMeters: 90 }] })).toEqual(['berm-all-gaps']); // prettier-ignore
    expect(of([place(20, -10), place(40, -10)])).toContain('berm-leaves-over');
    expect(of([place(0, -10), place(90, -10)], { heightMeters: 0 })).toContain('size-not-said');
    expect(of([place(0, -10), place(90, -10)], { heightMeters: 5 })).toContain(
      'higher-than-pushed',
    );
    // Debris lies about 1 to 1: common practice, no source. 7 m across carries 3.5 m.
    expect(of([place(0, -10), place(90, -10)], { heightMeters: 3.4 })).not.toContain('sides-too-steep'); // prettier-ignore
    expect(of([place(0, -10), place(90, -10)], { heightMeters: 3.65 })).toContain(
      'sides-too-steep',
    );
  });
  it('a heap says what it holds, what comes to it and what is wrong with it', () => {
    const heap = (at: [number, number], properties: object): PlanFeature => ({
      id: 'h',
      kind: 'heap',
      name: 'h',
      geometry: { type: 'Point', coordinates: at },
      properties: { ...blankProperties('heap'), ...properties },
      locked: false,
      hidden: false,
    });
    const answer = (at: [number, number], properties: object) =>
      answersOf([block, heap(at, properties)], null, {}, neededFor('heapHolds')).features['h']!
        .heapHolds!;
    const codes = (found: ReturnType<typeof answer>) => found.findings.map(({ code }) => code);
    // Hardy 1996, PNW-GTR-364: a paraboloid is π/8 height × width²; one without a length is round.
    const full = answer(place(50, 30), { widthMeters: 10, heightMeters: 3 });
    expect(full.value.holdsCubicMeters).toBeCloseTo((Math.PI / 8) * 3 * 100, 6);
    expect(full.value.comesCubicMeters).toBeCloseTo((Math.PI / 8) * 3 * 100, 6);
    // 20 to 40 % in three years: common practice.
    expect(full.value.settledMeters[2]!.low).toBeCloseTo(1.8, 6);
    expect(full.value.settledMeters[2]!.high).toBeCloseTo(2.4, 6);
    expect(codes(full)).toEqual([]);
    // One that stands holds its own, and nothing is sent to it.
    const stands = answer(place(50, 30), { widthMeters: 10, heightMeters: 3, taped: true });
    expect(stands.value.holdsCubicMeters).toBeCloseTo((Math.PI / 8) * 3 * 100, 6);
    expect(stands.value.comesCubicMeters).toBeNull();
    expect(JSON.stringify(stands.basis)).not.toMatch(/comes to it/);
    expect(codes(answer(place(50, 30), {}))).toEqual(['size-not-said']);
    expect(codes(answer(place(50, 5000), { widthMeters: 10, heightMeters: 3 }))).toEqual(['heap-out-of-reach']); // prettier-ignore
    expect(codes(answer(place(50, 30), { widthMeters: 90, heightMeters: 9 }))).toEqual(['higher-than-pushed', 'heap-not-filled']); // prettier-ignore
  });
});
