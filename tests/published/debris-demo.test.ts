import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { SiteDebris } from '../../geo/answers/debris-answers.ts';
import { definitions } from '../../geo/answers/definitions.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import { blankProperties } from '../../geo/plan/kinds.ts';
import { answersOf, neededFor, placeFrom } from '../answers-rig.ts';
import { demoAnswers } from '../demo-answers.ts';

// Trade notes §6.6 (the demo's own worked case): 164 t dry, 438 yd³ solid, 3,250 yd³ loose
// (2,300 to 5,800), A's share 82 % or 2,660 yd³; §6.2: T1 2.10 ac and T2 1.70 ac.
const CUBIC_YARD = 0.764554857984;
const ACRE = 4046.8564224;
const asked = definitions.filter(({ name }) => /debris|bermHolds|bermLine/i.test(name));
const plan = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
  features: PlanFeature[];
};
const answers = answersOf(plan.features, null, {}, asked);
const debris = answers.site.debris!.value as SiteDebris;

it('gives the debris of the demo as its notes reckon it', () => {
  expect(debris.kilograms.likely / 1000).toBeCloseTo(164, -1);
  expect(Math.abs(debris.kilograms.likely / 164_000 - 1)).toBeLessThan(0.01);
  expect(Math.abs(debris.solidCubicMeters.likely / CUBIC_YARD / 438 - 1)).toBeLessThan(0.01);
  const { low, likely, high } = debris.looseCubicMeters;
  expect(Math.abs(likely / CUBIC_YARD / 3250 - 1)).toBeLessThan(0.01);
  expect(low / CUBIC_YARD / 2300).toBeCloseTo(1, 1);
  expect(high / CUBIC_YARD / 5800).toBeCloseTo(1, 1);
  expect(debris.clearedSquareMeters / 4046.8564224).toBeCloseTo(3.8, 2);
});

it('adds up block by block', () => {
  const blocks = plan.features.flatMap(({ id }) => answers.features[id]?.timberDebris?.value ?? []);
  expect(blocks).toHaveLength(4);
  const sum = blocks.reduce((all, { looseCubicMeters }) => all + looseCubicMeters.likely, 0);
  expect(sum).toBeCloseTo(debris.looseCubicMeters.likely, 6);
  const onBench = ['T1', 'T2'].reduce(
    (all, id) => all + answers.features[id]!.timberDebris!.value!.looseCubicMeters.likely,
    0,
  );
  expect(onBench / CUBIC_YARD / 2660).toBeCloseTo(1, 2);
});

it('sends the bench’s debris to its berm, and says what of the spring plot has no place', () => {
  const berm = answers.features['berm-A']!.bermHolds!.value;
  expect(berm.shareCubicMeters.likely / CUBIC_YARD / 2660).toBeCloseTo(1, 2);
  // Without gaps 2,660 yd³ take about 500 ft; three of 15 ft with eight round ends take more.
  const feet = berm.neededLengthMeters!.likely / 0.3048;
  const section = 144;
  const ends = (Math.PI * 9 * 24 * 24) / 8;
  const byHand =
    ((berm.shareCubicMeters.likely / CUBIC_YARD) * 27 - 4 * ends) / section + 4 * 24 + 3 * 15;
  expect(feet).toBeCloseTo(byHand, 1);
  expect(debris.leftOverCubicMeters + berm.holdsCubicMeters).toBeCloseTo(
    debris.looseCubicMeters.likely,
    6,
  );
  expect(answers.site.debris!.findings.map(({ code }) => code)).toContain('debris-without-place');
});

it('lays the three ways on the bench plot as the notes reckon them (§6.6, hand estimates)', async () => {
  const onGround = await demoAnswers([], {}, 'ground.tif', neededFor('clearingWays', 'plotGround'));
  const { ways, debrisCubicMeters } = onGround.features['A']!.clearingWays!.value;
  expect(debrisCubicMeters.likely / 0.764554857984 / 2660).toBeCloseTo(1, 2);
  const acres = Object.fromEntries(
    ways.map((way) => [way.way, [way.plantableSquareMeters / ACRE, way.nextFallSquareMeters / ACRE]]), // prettier-ignore
  );
  // The notes: 2.65, with a strip of 10 ft; here 8 ft, which is 0.05 ac less of it.
  expect(Math.abs(acres['heaps']![0]! - 2.7)).toBeLessThan(0.02);
  expect(Math.abs(acres['edge-berm']![0]! - 2.85)).toBeLessThan(0.03);
  // The notes’ windrow runs from end to end; this one stops 100 ft from the trees and is higher.
  expect(acres['centre-windrow']![0]!).toBeGreaterThan(2.65);
  expect(acres['centre-windrow']![0]!).toBeLessThan(2.8);
  expect(Math.abs(acres['centre-windrow']![1]! - 3.05)).toBeLessThan(0.02);
  for (const way of ways) {
    // Gaps where water comes take three breaks of 26 ft out of the windrow that stops 100 ft from the
    // trees, which the notes do not reckon: at 12 ft, the greatest height, it lacks a seventh.
    const left = way.leftOverCubicMeters / debrisCubicMeters.likely;
    if (way.way === 'centre-windrow') expect(Math.abs(left - 1 / 7)).toBeLessThan(0.01);
    else expect(left).toBe(0);
    expect(way.plantableSquareMeters).toBeLessThan(
      onGround.features['A']!.plotGround!.value.areaSquareMeters,
    );
    // 16 to 32 h for all 3.8 ac at 100 hp (§6.6, a hand estimate); 82 % of the debris is here.
    expect(way.hours!.likely).toBeGreaterThan(0.8 * 16);
    expect(way.hours!.likely).toBeLessThan(32);
  }
  // §6.6: the windrow's face lies about 109 ft from the trees, past 82 and 100 ft.
  const trees = ways[2]!.distances.find(({ from }) => from === 'standing-trees')!;
  expect(trees.meters / 0.3048).toBeGreaterThan(99);
  expect(trees.meters / 0.3048).toBeLessThan(112);
});

describe('a taped heap, half-way', () => {
  const block = plan.features.find(({ id }) => id === 'T1')!;
  const heap: PlanFeature = {
    id: 'first',
    kind: 'heap',
    name: 'First heap',
    geometry: { type: 'Point', coordinates: (block.geometry.coordinates as Position[][])[0]![0]! },
    properties: {
      ...blankProperties('heap'),
      shape: 'half-ellipsoid',
      lengthMeters: 40,
      widthMeters: 20,
      heightMeters: 4,
      taped: true,
    },
    locked: false,
    hidden: false,
  };
  const cleared: PlanFeature = {
    ...heap,
    id: 'cleared',
    kind: 'clearing',
    geometry: block.geometry,
    properties: { clearedOn: '2026-11-02' },
  };
  const with_ = (...more: PlanFeature[]) => answersOf([...plan.features, ...more], null, {}, asked);

  it('scales the whole job by what came off the ground cleared so far (by hand)', () => {
    const after = with_(heap, cleared);
    const before = answers.features['T1']!.timberDebris!.value!.looseCubicMeters.likely;
    const measured = (Math.PI * 20 * 40 * 4) / 6; // PNW-GTR-364, half ellipsoid
    const ratio = measured / before;
    const now = after.site.debris!.value;
    expect(now.looseCubicMeters.likely / debris.looseCubicMeters.likely).toBeCloseTo(ratio, 6);
    expect(now.remeasured!.clearedShare).toBeCloseTo(before / debris.looseCubicMeters.likely, 6);
    expect(now.kilograms.likely).toBeCloseTo(debris.kilograms.likely, 6);
    const one = after.features['T2']!.timberDebris!.value!.looseCubicMeters.likely;
    expect(one / answers.features['T2']!.timberDebris!.value!.looseCubicMeters.likely).toBeCloseTo(ratio, 6); // prettier-ignore
    const spread = (of: typeof now) => of.looseCubicMeters.high / of.looseCubicMeters.low;
    expect(spread(now)).toBeLessThan(spread(debris));
    expect(after.site.debris!.findings.map(({ code }) => code)).toContain('debris-remeasured');
  });
  it('asks for the other half where only one is there, and for no more than a slip of the tape', () => {
    const codes = (...more: PlanFeature[]) => with_(...more).site.debris!.findings.map(({ code }) => code); // prettier-ignore
    expect(codes(heap)).toContain('mark-cleared-ground');
    expect(codes(cleared)).not.toContain('mark-cleared-ground');
    const huge = { ...heap, properties: { ...heap.properties, heightMeters: 60 } } as PlanFeature;
    expect(codes(huge, cleared)).toContain('far-from-estimate');
  });
});

it('a windrow to burn: distances by hand, what it leaves, and what is not drawn is not clear', () => {
  const at = (x: number, y: number): Position => placeFrom([-75, 36.14], x, y);
  const square = (x: number, y: number, w: number, h: number) => [[at(x, y), at(x + w, y), at(x + w, y + h), at(x, y + h), at(x, y)]]; // prettier-ignore
  const feature = (id: string, kind: PlanFeature['kind'], geometry: PlanFeature['geometry'], properties: object) => ({ id, kind, name: id, geometry, properties, locked: false, hidden: false }) as PlanFeature; // prettier-ignore
  const field = feature('field', 'plot', { type: 'Polygon', coordinates: square(0, 0, 170, 74) }, { weapon: null }); // prettier-ignore
  const house = feature('house', 'structure', { type: 'Point', coordinates: at(85, 174) }, { ...blankProperties('structure'), use: 'dwelling', ownedBy: 'neighbour' }); // prettier-ignore
  const windrow = feature('w', 'berm', { type: 'LineString', coordinates: [at(50, 37), at(120, 37)] }, { ...blankProperties('berm'), toBurn: true }); // prettier-ignore
  const { value, findings } = answersOf([field, house, windrow], null, {}, neededFor('burning')).features['w']!.burning!; // prettier-ignore
  const off = (from: string) => value.distances.find((one) => one.from === from)!.meters;
  // Its face is 3.66 m from its line: 37 - 3.66 to the trees along the plot, 137 - 3.66 to the house.
  expect(Math.abs(off('standing-trees') - 33.34)).toBeLessThan(0.05);
  expect(Math.abs(off('neighbour-dwelling') - 133.34)).toBeLessThan(0.05);
  expect(value.notDrawn).toContain('power-line');
  const short = findings.filter(({ code }) => code === 'burn-too-near');
  expect(short.map(({ values }) => values['from'])).toEqual(['neighbour-dwelling']);
  expect(findings.map(({ code }) => code)).toContain('ask-before-burning');
  // 70 m without a break, where a county fire service prints 60.
  expect(value.longestPartMeters).toBeCloseTo(70, 1);
  expect(findings.map(({ code }) => code)).toContain('burn-layout');
  expect(JSON.stringify(findings)).not.toMatch(/legal|safe/);
  // Where a clearing ends inside the plot no trees stand; one beyond it moves them off. The line ends at its toe, 50 m from the west edge.
  const open = (id: string, x: number, y: number, w: number, h: number) => feature(id, 'clearing', { type: 'Polygon', coordinates: square(x, y, w, h) }, { clearedOn: '2026-11-20' }); // prettier-ignore
  const with_ = (...more: PlanFeature[]) => answersOf([field, house, windrow, ...more], null, {}, neededFor('burning')).features['w']!.burning!.value; // prettier-ignore
  const trees = (of: typeof value) => of.distances.find((one) => one.from === 'standing-trees')!.meters; // prettier-ignore
  expect(trees(with_(open('half', 0, 0, 80, 74)))).toBeCloseTo(off('standing-trees'), 3);
  expect(Math.abs(trees(with_(open('s', 0, -30, 170, 40), open('n', 0, 60, 170, 40))) - 50)).toBeLessThan(0.05); // prettier-ignore
  // In the woods beside what is opened it stands among the trees.
  const beside = { ...windrow, geometry: { type: 'LineString', coordinates: [at(50, -20), at(120, -20)] } } as PlanFeature; // prettier-ignore
  const off20 = answersOf([field, beside], null, {}, neededFor('burning')).features['w']!.burning!;
  expect(trees(off20.value)).toBe(0);
  expect(off20.findings.map(({ code }) => code)).toContain('burn-too-near');
  // A pile's mass is its volume's (Hardy 1996), however much less a taped heap makes of the job.
  const block = feature('t', 'timber-block', field.geometry, { ...blankProperties('timber-block'), tally: [{ speciesGroup: 'pine', diameterMeters: 0.25, stemsPerHectare: 900, soldShare: 0 }] }); // prettier-ignore
  const taped = feature('h', 'heap', { type: 'Point', coordinates: at(30, 60) }, { ...blankProperties('heap'), lengthMeters: 12, widthMeters: 9, heightMeters: 3, taped: true }); // prettier-ignore
  const [told, asTallied] = [with_(block, open('half', 0, 0, 80, 74), taped), with_(block)];
  expect(told.emissions!.consumedKilograms.likely).toBeCloseTo(asTallied.emissions!.consumedKilograms.likely, 3); // prettier-ignore
});
