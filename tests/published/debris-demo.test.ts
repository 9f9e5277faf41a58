import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { SiteDebris } from '../../geo/answers/debris-answers.ts';
import { definitions } from '../../geo/answers/definitions.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { answersOf } from '../answers-rig.ts';

// Trade notes §6.6 (the demo's own worked case): 164 t dry, 438 yd³ solid, 3,250 yd³ loose
// (2,300 to 5,800), A's share 82 % or 2,660 yd³; §6.2: T1 2.10 ac and T2 1.70 ac.
const CUBIC_YARD = 0.764554857984;
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
