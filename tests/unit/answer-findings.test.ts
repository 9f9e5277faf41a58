import { describe, expect, test } from 'vitest';
import { surveyQuality } from '../../geo/answers/survey-quality.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { Position } from '../../geo/plan/feature.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import { answersOf, bermOf, groundOf, neededFor, plotOf } from '../answers-rig.ts';
import { gridOf } from '../terrain-grids.ts';

/** What is said beside the numbers, and when: limits are the trade notes' (Q9, Q41, §3.1, S3). */

function groundWith(heightAt: (x: number, y: number) => number, said: Partial<GroundRecord> = {}) {
  const plain = gridOf({ width: 100, height: 100 }, heightAt);
  const frame = openFrame(plain.frame);
  return groundOf(makeGrid(plain, plain.data, frame), frame, said);
}
type Ground = ReturnType<typeof groundWith>;

const box = ({ grid, frame }: Ground, west: number, south: number, east: number, north: number) =>
  (
    [
      [west, south],
      [east, south],
      [east, north],
      [west, north],
    ] as const
  ).map(([x, y]): Position => frame.toLngLat(grid.west + x, grid.north - 100 + y));
const codes = (answer: { findings: readonly { code: string }[] } | undefined) =>
  answer!.findings.map((f) => f.code);

/** A cone-shaped hollow in a gentle slope, `depth` below its rim, 10 m in radius. */
const hollow = (depth: number) => (x: number, y: number) =>
  250 + 0.0001 * x - Math.max(0, depth * (1 - Math.hypot(x - 50, y - 50) / 10));

describe('low spots', () => {
  test('one that is shallower than the survey’s error is not listed, and that is said', () => {
    const doubtful = answersOf([], groundWith(hollow(0.07), { verticalErrorMeters: 0.1 })).site;
    expect(doubtful.lowSpots!.value.lowSpots).toEqual([]);
    expect(doubtful.lowSpots!.value.totalCount).toBe(1);
    expect(codes(doubtful.lowSpots)).toEqual(['low-spots-plain-fill', 'low-spots-within-error']);
    expect(doubtful.lowSpots!.findings[1]!.values).toEqual({ depthMeters: 0.1, count: 1 });
    const unsaid = answersOf([], groundWith(hollow(0.07), { verticalErrorMeters: null })).site;
    expect(codes(unsaid.lowSpots)).toEqual(['low-spots-plain-fill', 'low-spots-error-assumed']);
    const sure = answersOf([], groundWith(hollow(0.07), { verticalErrorMeters: 0.03 })).site;
    expect(sure.lowSpots!.value.lowSpots.map((s) => s.id)).toEqual(['P1']);
    expect(codes(sure.lowSpots)).toEqual(['low-spots-plain-fill']);
  });

  test('one that only the user’s own limit hides is not put down to the survey', () => {
    const ground = groundWith(hollow(0.07), { verticalErrorMeters: 0.03 });
    const { lowSpots } = answersOf([], ground, { listMinDepthMeters: 0.15 }).site;
    expect(lowSpots!.value.lowSpots).toEqual([]);
    expect(codes(lowSpots)).toEqual(['low-spots-plain-fill']);
  });

  test('the shallow rim of a deep one is listed with the plot, but no reason to warn', () => {
    const ground = groundWith(hollow(1));
    const brushed = plotOf('plot', [box(ground, 59.3, 40, 80, 60)]);
    const { plotLowSpots: rim } = answersOf([brushed], ground).features['plot']!;
    expect(rim!.value.lowSpots).toHaveLength(1);
    expect(rim!.value.lowSpots[0]!.insideMaxDepthMeters).toBeLessThan(0.1);
    expect(codes(rim)).toEqual([]);
    const across = plotOf('plot', [box(ground, 50, 40, 80, 60)]);
    const { plotLowSpots: half } = answersOf([across], ground).features['plot']!;
    expect(codes(half)).toEqual(['plot-low-spot']);
    const { insideAreaSquareMeters, areaSquareMeters } = half!.value.lowSpots[0]!;
    expect(insideAreaSquareMeters / areaSquareMeters).toBeCloseTo(0.5, 1);
  });
});

describe('plots', () => {
  test('steep, level, and an acre of bared soil', () => {
    const acre = 4046.8564224;
    const said = (slope: number, side: number) => {
      const ground = groundWith((x) => 250 + slope * x);
      const plot = plotOf('plot', [box(ground, 5, 5, 5 + side, 5 + side)]);
      return codes(answersOf([plot], ground).features['plot']!.plotGround);
    };
    // 0.1 % more or less than an acre on the ground; the frame's own scale takes 0.08 %.
    const side = Math.sqrt(acre * 0.9996 ** 2);
    expect(said(0.05, side * 0.9995)).toEqual([]);
    expect(said(0.05, side * 1.0005)).toEqual(['disturbs-an-acre']);
    expect(said(0.099, 30)).toEqual([]);
    expect(said(0.101, 30)).toEqual(['plot-steep']);
    expect(said(0.0005, 30)).toEqual(['plot-level']);
  });

  test('a hole larger than its outline encloses nothing', () => {
    const ground = groundWith(() => 250);
    const inside = box(ground, 40, 40, 60, 60);
    const plot = plotOf('plot', [inside, box(ground, 20, 20, 80, 80)]);
    expect(answersOf([plot], ground).features['plot']!.plotGround).toBeNull();
  });
});

describe('the survey', () => {
  test('grades (trade notes Q41; limits are ours)', () => {
    const grade = (said: Partial<GroundRecord>) =>
      surveyQuality(groundWith(() => 250, said).record).grade;
    const fine = {
      surveyedOn: '2026-08-21',
      clearing: 'after-clearing',
      verticalErrorMeters: 0.03,
      sourceCellMeters: 0.1,
    } as const;
    const half = groundWith(() => 250).record.place;
    const place = { ...half, cellWidth: 0.5, cellHeight: 0.5 };
    expect(grade({ ...fine, place })).toBe('survey-grade');
    expect(grade({ ...fine, place, clearing: 'before-clearing' })).toBe('planning-grade');
    expect(grade(fine)).toBe('planning-grade');
    expect(grade({ ...fine, surveyedOn: null })).toBe('walk-it-first');
    expect(grade({ verticalErrorMeters: null })).toBe('planning-grade');
    expect(grade({ verticalErrorMeters: 0.3 })).toBe('walk-it-first');
    expect(grade({ verticalErrorMeters: null, sourceCellMeters: 10 })).toBe('walk-it-first');
  });

  test('what nobody said is asked for', () => {
    const said = {
      surveyedOn: null,
      clearing: 'unknown',
      verticalErrorMeters: null,
      sourceCellMeters: 10,
    } as const;
    const { ground } = answersOf(
      [],
      groundWith(() => 250, said),
    ).site;
    expect(codes(ground)).toEqual([
      'survey-date-unknown',
      'clearing-unknown',
      'vertical-error-assumed',
      'coarse-ground',
    ]);
    expect(ground!.basis.confidence).toMatch(/^Walk it first/);
  });

  test('a ground without one height says so', () => {
    const { ground, lowSpots } = answersOf(
      [],
      groundWith(() => NaN),
    ).site;
    expect(ground!.value.cellsWithData).toBe(0);
    expect(ground!.value.areaSquareMeters).toBe(0);
    expect(ground!.value.lowestMeters).toBeNaN();
    expect(codes(ground)).toEqual(['ground-empty']);
    expect(lowSpots!.value.totalCount).toBe(0);
  });
});

test('a berm drawn just beside the ground is not said to dam nothing: that is not known', () => {
  const ground = groundWith((x, y) => 250 + 0.01 * x + 0.02 * y);
  const asked = neededFor('damming', 'lettingGaps');
  const at = (x: number): Position[] => [20, 80].map((y) => ground.frame.toLngLat(ground.grid.west + x, ground.grid.north - y)); // prettier-ignore
  const beside = answersOf([bermOf('b', at(112))], ground, {}, asked).features['b'];
  expect([beside!.damming, beside!.lettingGaps]).toEqual([null, null]);
  expect(
    answersOf([bermOf('b', at(60))], ground, {}, asked).features['b']!.damming!.value.ponds,
  ).toBeDefined();
});
