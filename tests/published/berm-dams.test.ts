import { describe, expect, test } from 'vitest';
import { sectionHeight } from '../../geo/debris/section-height.ts';
import { distanceAndBearing, measurePolygon } from '../../geo/frame/geodesic.ts';
import type { PropertiesOf } from '../../geo/plan/kinds.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { demoAnswers } from '../demo-answers.ts';
import { gapInLowBerm, lowBerm } from '../low-berm.ts';

/** Berms as dams on the demo's finish grade, against the trade notes (§6.6). */

/** The largest low spot with a berm in place, brim full. */
async function largest(feature: PlanFeature) {
  const settings = { waterOn: 'with-the-plan' } as const;
  const { value } = (await demoAnswers([feature], settings, 'finish.tif')).site.lowSpots!;
  return value.lowSpots[0]!;
}

describe('a berm round the low edge of the bench plot', () => {
  test('with 50-ft returns dams 440 m³, 0.36 m deep', async () => {
    const pond = await largest(lowBerm([]));
    // The notes hold to about 10 %: their noise is not this noise. Their 0.58 ac is 0.68 here: the
    // shallow rim of the pond follows the residue of the finish, which their surface leaves out.
    expect(pond.volumeCubicMeters / 440).toBeGreaterThan(0.9);
    expect(pond.volumeCubicMeters / 440).toBeLessThan(1.1);
    expect(Math.abs(pond.maxDepthMeters / 0.36 - 1)).toBeLessThan(0.1);
  }, 60_000);

  test('with one 23-ft gap at c = -45, or five 15-ft gaps, no more stands than without it', async () => {
    const without = await largest(lowBerm([], 0));
    const gaps = [
      [gapInLowBerm(-45, 23)],
      [-110, -75, -45, -5, 35].map((c) => gapInLowBerm(c, 15)),
    ];
    for (const some of gaps) {
      const left = await largest(lowBerm(some));
      expect(left.volumeCubicMeters).toBeLessThan(without.volumeCubicMeters * 1.05);
    }
    expect(without.volumeCubicMeters).toBeLessThan(440 / 10);
  }, 60_000);
});

describe('what the berm itself is said to do', () => {
  test('dams what is dammed, and three gaps where the water comes let it through', async () => {
    const answers = await demoAnswers([lowBerm([])], {}, 'finish.tif');
    const { damming, lettingGaps } = answers.features['dam']!;
    const dams = damming!.value;
    // Whether the water runs with the plan or as surveyed is all one to it. Of the notes' 440 m³
    // it is what stands there only by the berm: less what the bare finish holds (under a tenth).
    expect(dams.volumeCubicMeters / 440).toBeGreaterThan(0.8);
    expect(dams.volumeCubicMeters / 440).toBeLessThan(1);
    expect(Math.abs(dams.maxDepthMeters / 0.36 - 1)).toBeLessThan(0.1);
    expect(damming!.findings.map(({ code }) => code)).toEqual(['dams-water', 'turns-flow']);
    // Its shores enclose what it covers (a shore runs up to half a cell off), geodesically.
    for (const { areaSquareMeters, outline } of dams.ponds) {
      const enclosed = outline.reduce(
        (sum, polygon) => sum + measurePolygon(polygon).areaSquareMeters,
        0,
      );
      expect(Math.abs(enclosed / areaSquareMeters - 1)).toBeLessThan(0.1);
    }
    // The turned water is drawn from beside the berm where it came (the highest foot within 40 cells)
    // to where it gets past, and a little on.
    for (const { at, passesAt, line } of dams.turned!) {
      expect(distanceAndBearing(at, line[0]!).distanceMeters).toBeLessThan(40);
      const nearest = Math.min(
        ...line.map((place) => distanceAndBearing(passesAt, place).distanceMeters),
      );
      expect(nearest).toBeLessThan(20);
      expect(distanceAndBearing(passesAt, line.at(-1)!).distanceMeters).toBeLessThan(30);
    }
    // Trade notes Q3: a gap at every flow-path crossing of a quarter acre and more.
    const { gaps, leftVolumeCubicMeters } = lettingGaps!.value;
    expect(gaps.length).toBeGreaterThan(0);
    expect(gaps.length).toBeLessThanOrEqual(5);
    for (const { stationMeters, catchmentSquareMeters, movedMeters } of dams.turned!) {
      expect(catchmentSquareMeters).toBeGreaterThan(0.25 * 4046.8564);
      if (movedMeters < 10) continue;
      expect(gaps.some((gap) => Math.abs(gap.stationMeters - stationMeters) < 10)).toBe(true);
    }
    expect(leftVolumeCubicMeters).toBeLessThan(0.1 * dams.volumeCubicMeters);
    // With them put in it dams no more than was said.
    const put = gaps.map(({ stationMeters, widthMeters }) => ({ stationMeters, widthMeters }));
    const after = (await demoAnswers([lowBerm(put)], {}, 'finish.tif')).features['dam']!;
    expect(after.damming!.value.volumeCubicMeters).toBeCloseTo(leftVolumeCubicMeters, 6);
  }, 60_000);

  test('no berm, no heap and no road without a height dams anything', async () => {
    const answers = await demoAnswers([lowBerm([], 0)], {}, 'finish.tif');
    for (const one of Object.values(answers.features)) expect(one.damming ?? null).toBeNull();
  }, 60_000);
});

test('sections enclose the areas of the published shapes (handbook §2: 60, 80, 94.25 ft²)', () => {
  const area = (shape: PropertiesOf<'berm'>['section']) => {
    const step = 0.001;
    let sum = 0;
    for (let x = -10 + step / 2; x < 10; x += step) sum += sectionHeight(shape, 20, 6, Math.abs(x)) * step; // prettier-ignore
    return sum;
  };
  expect(area('triangle')).toBeCloseTo(60, 2);
  expect(area('parabola')).toBeCloseTo(80, 2);
  expect(area('half-ellipse')).toBeCloseTo(94.25, 2);
  // Half its base on top: three quarters of the box, by hand.
  expect(area('trapezoid')).toBeCloseTo(90, 2);
});
