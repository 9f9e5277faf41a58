import { describe, expect, test } from 'vitest';
import { sentenceOf } from '../../app/words/findings.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { answersOf, bermOf, groundOf, neededFor } from '../answers-rig.ts';
import { gridOf } from '../terrain-grids.ts';

/** A berm drawn across the notch that lets a low spot out: named, and a gap offered just there. */

// A bowl 1 m deep at x = 30 in a slope that falls 3 % east; the notch runs from it to x = 85.
const heights = (x: number, y: number) =>
  250 - 0.03 * x - Math.max(0, 1.5 * (1 - Math.hypot(x - 30, y - 40) / 12));
const plain = gridOf({ width: 120, height: 80 }, heights);
const frame = openFrame(plain.frame);
const ground = groundOf(makeGrid(plain, plain.data, frame), frame, { verticalErrorMeters: 0.05 });
const at = (x: number, y: number): Position => frame.toLngLat(plain.west + x, plain.north - 80 + y);

const notch = {
  id: 'notch',
  kind: 'ditch',
  name: 'Notch out of P1',
  locked: false,
  hidden: false,
  geometry: { type: 'LineString', coordinates: [at(30, 40), at(85, 40)] },
  properties: { depthMeters: null, bottomStartMeters: 247.6, bottomEndMeters: 247.3, bottomWidthMeters: 2.13, sideSlopeRun: 6 }, // prettier-ignore
} as unknown as PlanFeature;

const wanted = neededFor('damming', 'lettingGaps', 'bermGaps');
const across = (x: number, gaps: PlanFeature<'berm'>['properties']['gaps'] = []) => {
  const berm = bermOf('berm', [at(x, 15), at(x, 65)]) as PlanFeature<'berm'>;
  const drawn = { ...berm, properties: { ...berm.properties, gaps } };
  return answersOf([drawn, notch], ground, { waterOn: 'with-the-plan' }, wanted).features['berm']!;
};
const named = (of: ReturnType<typeof across>) =>
  of.damming!.findings.filter(({ code }) => code === 'berm-across-ditch');

describe('a berm across a notch', () => {
  test('is named with the notch and the place, 25 m along it', () => {
    const [finding] = named(across(60));
    expect(finding).toMatchObject({ level: 'caution', about: ['berm'], values: { ditch: 'Notch out of P1' } }); // prettier-ignore
    expect(Math.abs(Number(finding!.values['stationMeters']) - 25)).toBeLessThan(0.2);
    expect(sentenceOf(finding!, 'us')).toEqual({
      lead: 'Leave a gap where Notch out of P1 goes through.',
      rest: 'This berm lies across it at 0+82 and dams it again unless the cut is kept open there.',
    });
  });

  test('gets a gap there by both lists; once it is in, nothing is said', () => {
    const { lettingGaps, bermGaps } = across(60);
    for (const { gaps } of [lettingGaps!.value, bermGaps!.value]) {
      expect(gaps.some((gap) => Math.abs(gap.stationMeters - 25) < gap.widthMeters / 2)).toBe(true);
    }
    const put = lettingGaps!.value.gaps.map(({ stationMeters, widthMeters }) => ({ stationMeters, widthMeters })); // prettier-ignore
    const after = across(60, put);
    expect(named(after)).toEqual([]);
    expect(after.lettingGaps!.value.gaps).toEqual([]);
  });

  test('or on its end, under the berm’s foot; not beside it', () => {
    expect(named(across(87))).toHaveLength(1);
    expect(named(across(90))).toEqual([]);
  });
});
