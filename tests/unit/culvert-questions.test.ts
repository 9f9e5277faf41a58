import { describe, expect, test } from 'vitest';
import { definitions } from '../../geo/answers/definitions.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { answersOf, groundOf } from '../answers-rig.ts';
import { gridOf } from '../terrain-grids.ts';

/** A road on a fill across a draw ponds what comes down it: asked before any cut. */

// A draw that falls 2 % east between slopes of 10 %, and a fill 1 m high across it at x = 60.
const heights = (x: number, y: number) =>
  240 - 0.02 * x + 0.1 * Math.abs(y - 30) + Math.max(0, 1 - Math.abs(x - 60) / 4);
const plain = gridOf({ width: 100, height: 60 }, heights);
const frame = openFrame(plain.frame);
const ground = groundOf(makeGrid(plain, plain.data, frame), frame);
const at = (x: number, y: number): Position => frame.toLngLat(plain.west + x, plain.north - 60 + y);

function line(
  id: string,
  kind: PlanFeature['kind'],
  places: readonly Position[],
  properties: object,
) {
  const geometry = { type: 'LineString', coordinates: places };
  return { id, kind, name: id, geometry, properties, locked: false, hidden: false } as unknown as PlanFeature; // prettier-ignore
}
const lane = line('the lane', 'lane', [at(60, 2), at(60, 58)], {
  toStand: null,
  fillHeightMeters: 1,
  widthMeters: null,
});
const path = line('the path', 'lane', [at(60, 2), at(60, 58)], {
  toStand: null,
  fillHeightMeters: null,
  widthMeters: null,
});
const flat = line('flat', 'lane', [at(60, 2), at(60, 58)], {
  toStand: null,
  fillHeightMeters: 0,
  widthMeters: 4,
});
const track = line('the track', 'structure', [at(60, 2), at(60, 58)], { use: 'track', ownedBy: 'owner' }); // prettier-ignore
const fence = line('the fence', 'structure', [at(60, 2), at(60, 58)], { use: 'other', ownedBy: 'owner' }); // prettier-ignore
const far = line('far', 'lane', [at(90, 2), at(90, 58)], {
  toStand: null,
  fillHeightMeters: 1,
  widthMeters: null,
});
const culvert = line('pipe', 'culvert', [at(54, 30), at(66, 30)], { diameterMeters: 0.4 });

/** All but the trials of the survey's error, which nothing here reads. */
const wanted = definitions.filter(({ name }) => name !== 'spotsSure');

const asked = (features: readonly PlanFeature[], settings: Partial<Settings> = {}) =>
  answersOf(features, ground, settings, wanted).site.culvertQuestions!;

describe('a low spot behind a road fill', () => {
  test.each([[lane], [track]])('%# is a question about that road, at its fill', (road) => {
    const { value, findings } = asked([road!]);
    expect(value.questions).toHaveLength(1);
    const [question] = value.questions;
    expect(question).toMatchObject({ id: 'P1', roadId: road!.id, state: 'ask' });
    const [x, y] = frame.fromLngLat(...(question!.at as Position));
    expect(Math.abs(x - plain.west - 60)).toBeLessThan(0.1);
    expect(Math.abs(y - (plain.north - 30))).toBeLessThan(12);
    expect(findings).toMatchObject([
      { level: 'caution', code: 'culvert-first', about: [road!.id], values: { spot: 'P1' } },
    ]);
  });

  test('a fence is none, nor a lane walked without a fill, nor one farther off, nor no road at all', () => {
    for (const features of [[], [fence], [path], [flat], [far]]) {
      expect(asked(features).value.questions).toEqual([]);
    }
  });

  test('a culvert that is drawn answers it; so does somebody who says there is none', () => {
    const drawn = asked([lane, culvert]);
    expect(drawn.value.questions[0]!.state).toBe('drawn');
    expect(drawn.findings.map(({ code }) => code)).toEqual(['culvert-drawn']);
    const place = asked([lane]).value.questions[0]!.at;
    const denied = asked([lane], { noCulvertAt: [[place[0], place[1]]] });
    expect(denied.value.questions[0]!.state).toBe('none-there');
    expect(denied.findings).toEqual([]);
  });

  test('with the culvert in the ground the low spot is gone, and nothing is asked', () => {
    const { site } = answersOf([lane, culvert], ground, { waterOn: 'with-the-plan' }, wanted);
    expect(site.lowSpots!.value.lowSpots).toEqual([]);
    expect(site.culvertQuestions!.value.questions).toEqual([]);
    expect(site.notchFlows!.value.runs).toEqual([]);
  });
});

test('a lane on a fill of 1 m across a draw dams what geometry says, as a track does; without one, nothing', () => {
  // By hand: the top is level with the ground + 1 m, lowest in the two cells beside the middle, which
  // stand 0.05 m over it: water runs over 1.05 m up at x = 58.5. Beyond the foot of the fill, at
  // x = 56, it is 1 m deep over the middle, a wedge of h³ / (3 · 0.02 · 0.1) = 166.7 m³.
  const draw = gridOf({ width: 100, height: 60 }, (x, y) => 240 - 0.02 * x + 0.1 * Math.abs(y - 30)); // prettier-ignore
  const bare = groundOf(makeGrid(draw, draw.data, frame), frame);
  const filled = (of: PlanFeature, fillHeightMeters: number | null): PlanFeature =>
    ({ ...of, properties: { ...of.properties, fillHeightMeters, widthMeters: 4 } }) as PlanFeature;
  const dams = (of: PlanFeature) =>
    answersOf([of], bare, {}, wanted).features[of.id]!.damming?.value ?? null;
  const held = dams(filled(lane, 1))!;
  expect(Math.abs(held.volumeCubicMeters / 166.7 - 1)).toBeLessThan(0.01);
  expect(held).toEqual(dams(filled(track, 1)));
  expect(held.turned).toHaveLength(1);
  expect(held.turned![0]!.passesBy).toBe('its-top');
  expect(dams(filled(lane, null))).toBeNull();
  expect(dams(path)).toBeNull();
});

test('its notch is sized, timed and has a place for its spoil', () => {
  const { site } = answersOf([], ground, {}, wanted);
  const [run] = site.notchFlows!.value.runs;
  const [job] = site.notchWork!.value.jobs;
  const { notch } = site.waysOut!.value.ways[0]!;
  expect(run!.id).toBe('P1');
  // Above the fill at x = 56 lie 56 × 60 m; the rim drains off.
  expect(run!.peak.catchmentSquareMeters).toBeGreaterThan(0.9 * 55 * 58);
  expect(run!.peak.catchmentSquareMeters).toBeLessThan(61 * 60);
  expect(job!.cutMinutes!.low).toBeLessThan(job!.cutMinutes!.likely);
  const { lengthMeters, widthMeters, thicknessMeters } = notch!.spoil;
  expect(lengthMeters * widthMeters * thicknessMeters).toBeCloseTo(notch!.looseCubicMeters.likely, 6); // prettier-ignore
  // No rain, no flow; a bare number of a curve under 40 asks for the rational formula.
  const dry = answersOf([], ground, { siteCover: 'woods-good', assumedSoilGroup: 'A' }, wanted).site; // prettier-ignore
  expect(dry.notchFlows!.value.runs[0]!.peak.method).toBe('rational');
  expect(run!.peak.method).toBe('graphical');
});
