import { beforeAll, describe, expect, it } from 'vitest';
import { answerPlan } from '../../geo/answers/answer-plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import type { Conditions } from '../../geo/plan/conditions.ts';
import { offsetLine } from '../../geo/plan/construct/offset-line.ts';
import { toPlane, toPosition } from '../../geo/plan/construct/plan-plane.ts';
import { parseFeature, type PlanFeature } from '../../geo/plan/feature.ts';
import { lineLength, placeAt } from '../../geo/plan/line-geometry.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
import { isInPolygon } from '../../geo/plan/point-in-polygon.ts';
import { neededFor } from '../answers-rig.ts';
import { demoGround, demoPlan } from '../demo-answers.ts';

// Trade notes §6.4: verdicts of the demo's stands by wind, and shares of hours at dawn and dusk.
let ground: GroundInUse;
beforeAll(async () => {
  ground = await demoGround('ground.tif');
});

const at = (wind: Conditions['wind'], hourUtc: string, features = demoPlan.features) =>
  answerPlan(
    {
      features,
      settings: { ...defaultSettings, ...demoPlan.settings },
      conditions: { ...demoPlan.conditions, wind, hourUtc },
      rasters: { ground },
    },
    neededFor('standWinds', 'standSeasons', 'wind'),
  ).site;

const morning = '2026-11-14T12:00:00Z';
const names = ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'];

describe('the demo’s stands', () => {
  it.each([
    ['A1', { works: 'N W NW', marginal: 'S', 'does-not': 'NE E SE SW' }],
    ['A2', { works: 'W NW', marginal: 'N E', 'does-not': 'NE SE S SW' }],
  ] as const)('%s has the verdicts of the notes on every wind', (id, expected) => {
    const found: Record<string, string[]> = { works: [], marginal: [], 'does-not': [] };
    names.forEach((name, i) => {
      const { standWinds } = at({ fromDegrees: i * 45, speedMetersPerSecond: 6 }, morning);
      found[standWinds!.value.stands[id]!.verdict]!.push(name);
    });
    expect(Object.fromEntries(Object.entries(found).map(([key, list]) => [key, list.join(' ')]))).toEqual(expected); // prettier-ignore
  });
  it('a narrow opening is low confidence, and evening air in a calm drains to 143', () => {
    const { standWinds } = at({ fromDegrees: null, speedMetersPerSecond: 0 }, '2026-11-14T22:20:00Z'); // prettier-ignore
    const all = Object.values(standWinds!.value.stands);
    for (const { doubts } of all) expect(doubts).toEqual(expect.arrayContaining(['sheltered', 'slope-air'])); // prettier-ignore
    // The notes' 143 is the bench's own fall; each seat stands on its own bit of it, A1 by a draw.
    const toward = all.map(({ towardDegrees }) => towardDegrees!);
    for (const one of toward) expect(Math.abs(one - 143)).toBeLessThan(45);
    expect(Math.abs(toward.reduce((sum, one) => sum + one, 0) / 3 - 143)).toBeLessThan(15);
  });
  it('more protected ground never makes a wind better', () => {
    const rank = { works: 2, marginal: 1, 'does-not': 0 };
    const bare = demoPlan.features.filter(({ kind }) => kind !== 'bedding-area');
    for (let from = 0; from < 360; from += 22.5) {
      const wind = { fromDegrees: from, speedMetersPerSecond: 5 };
      const [all, few] = [at(wind, morning), at(wind, morning, bare)];
      for (const id of ['A1', 'A2', 'B1']) {
        const worse = rank[all.standWinds!.value.stands[id]!.verdict];
        expect(worse).toBeLessThanOrEqual(rank[few.standWinds!.value.stands[id]!.verdict]);
      }
    }
  });
});

it('the record that the demo carries blows as the notes say, to a point', () => {
  const { parts, length } = at({ fromDegrees: 0, speedMetersPerSecond: 3 }, morning).wind!.value!;
  expect(length.wholeSeasons).toBe(5);
  // Of every hour with a direction or calm, by eighths: the notes' N takes half of NNE and NNW.
  const eighths = ({ directionHours: hours, hours: all }: typeof parts.dusk) =>
    [0, 2, 4, 6, 8, 10, 12, 14].map((k) => {
      const sides = (hours[(k + 15) % 16]! + hours[(k + 1) % 16]!) / 2;
      return (100 * (hours[k]! + sides)) / all;
    });
  const dusk = eighths(parts.dusk);
  [7, 3, 2, 5, 14, 24, 22, 17].forEach((share, i) => expect(Math.abs(dusk[i]! - share)).toBeLessThan(3)); // prettier-ignore
  expect(Math.abs((100 * parts.dusk.calmHours) / parts.dusk.hours - 6)).toBeLessThan(1);
  expect(Math.abs((100 * parts.dawn.calmHours) / parts.dawn.hours - 18)).toBeLessThan(1.5);
});

it('the season: shares of the notes where the wind alone decides, and the winds that nothing works on', () => {
  // §6.4 counts the wind alone in sectors of 45°: no slope air, no shelter, the rule's 30° and 15°.
  const open = demoPlan.features.filter(({ kind }) => kind !== 'timber-block');
  const season = answerPlan(
    {
      features: open,
      settings: { ...defaultSettings, ...demoPlan.settings, siteCover: 'meadow' },
      conditions: demoPlan.conditions,
      rasters: {},
    },
    neededFor('standSeasons'),
  ).site.standSeasons!.value;
  const share = ({ works, marginal, doesNot }: { works: number; marginal: number; doesNot: number }) => (100 * works) / (works + marginal + doesNot); // prettier-ignore
  for (const [id, dawn, dusk] of [
    ['A1', 36, 46],
    ['A2', 29, 39],
  ] as const) {
    // prettier-ignore
    const { morning, evening } = season.stands[id]!.season;
    // Hourly speeds and tens of degrees spread over the edges of the notes' eight sectors.
    expect(Math.abs(share(morning) - dawn), id).toBeLessThan(12);
    expect(Math.abs(share(evening) - dusk), id).toBeLessThan(12);
  }
  // "No stand works on NE, E or SE" (§6.4), by the centre of each direction.
  for (const k of [2, 4, 6]) {
    for (const one of Object.values(season.stands)) expect(one.downwind[k]).not.toEqual([]); // prettier-ignore
  }
  // "A1 looks into the low sun on November evenings."
  const november = season.stands['A1']!.glare.slice(5, 9);
  expect(november.some(({ eveningMinutes }) => eveningMinutes > 5)).toBe(true);
  expect(Math.max(...november.map(({ morningMinutes }) => morningMinutes))).toBe(0);
});

it('when to leave the truck is of the sit of the hour in hand', () => {
  const sit = (hourUtc: string) =>
    answerPlan(
      {
        features: demoPlan.features,
        settings: { ...defaultSettings, ...demoPlan.settings, lanesFor: 'B1' },
        conditions: { ...demoPlan.conditions, hourUtc },
        rasters: { ground },
      },
      neededFor('standLanes'),
    ).site.standLanes!.value.winds[0]!.best!;
  // By hand for 14 Nov, 36.14 N, 75.00 W: declination -18.2, equation of time 15.5 min, so noon at
  // 16:44.5 and sunset (-0.833 degrees) 5 h 8.9 min after it, at 21:53.4 UTC; sunrise 11:35.6.
  for (const [hour, part, begins] of [
    ['2026-11-14T21:10:00Z', 'evening', '2026-11-14T19:53:24Z'],
    ['2026-11-14T11:30:00Z', 'morning', '2026-11-14T11:05:36Z'],
  ] as const) {
    const best = sit(hour);
    expect(best.sit!.part).toBe(part);
    const off = Date.parse(best.sit!.beginsUtc) - Date.parse(begins);
    expect(Math.abs(off)).toBeLessThan(120_000);
    // 25 min to settle before it, the walk before that, to the whole minute.
    const before = (Date.parse(best.sit!.beginsUtc) - Date.parse(best.sit!.leaveTruckUtc)) / 60_000;
    expect(before - best.seconds / 60 - 25).toBeGreaterThanOrEqual(0);
    expect(before - best.seconds / 60 - 25).toBeLessThan(1);
  }
});

it('ways in to B1: from the gate, never through bedding or off the tract', () => {
  // §6.3: "a lane through bedding is no lane".
  const { value } = answerPlan(
    {
      features: demoPlan.features,
      settings: { ...defaultSettings, ...demoPlan.settings, lanesFor: 'B1' },
      conditions: demoPlan.conditions,
      rasters: { ground },
    },
    neededFor('standLanes'),
  ).site.standLanes!;
  const ringOf = (id: string) => (demoPlan.features.find((one) => one.id === id)!.geometry.coordinates as [number, number][][])[0]!; // prettier-ignore
  const along = (line: readonly (readonly [number, number])[]) =>
    line.slice(1).flatMap(([x, y], i) => Array.from({ length: 50 }, (_, k): [number, number] => {
      const [ax, ay] = line[i]!;
      return [ax + ((k + 0.5) / 50) * (x - ax), ay + ((k + 0.5) / 50) * (y - ay)];
    })); // prettier-ignore
  const inH1 = (place: [number, number]) => isInPolygon(place, [ringOf('H1')]);
  expect(value.winds.length).toBeGreaterThan(3);
  for (const { best, second } of value.winds) {
    for (const lane of [best!, ...(second ? [second] : [])]) {
      expect(along(lane.line).some(inH1)).toBe(false);
      for (const place of along(lane.line))
        expect(isInPolygon(place, [ringOf('parcel')])).toBe(true);
      // Tobler off the path in the dark is at best 0.36 × 6 km/h × 1.19; tracks 0.6 of it.
      expect(lane.lengthMeters / lane.seconds).toBeLessThan(0.6 * 1.68);
      expect(lane.accessId).toBe('gate');
      expect(lane.sit).toMatchObject({ part: 'evening' });
      expect(Date.parse(lane.sit!.leaveTruckUtc)).toBeLessThan(Date.parse('2026-11-14T19:28:00Z'));
    }
    expect(best!.lengthMeters).toBeLessThan(1500);
  }
  // Some winds have a way in that works, some have none: both are answers.
  expect(value.winds.some(({ noLane }) => noLane === null)).toBe(true);
  expect(value.winds.some(({ noLane }) => noLane === 'scented')).toBe(true);
});

it('a lane is good on its own wind unless it is said to be scented; a berm where one is told hides the stretch', () => {
  const lanes = (more: PlanFeature[]) =>
    answerPlan(
      {
        features: [...demoPlan.features, ...more],
        settings: { ...defaultSettings, ...demoPlan.settings, lanesFor: 'A2' },
        conditions: demoPlan.conditions,
        rasters: { ground },
      },
      neededFor('standLanes'),
    ).site.standLanes!.value.winds;
  const before = lanes([]);
  for (const { direction, best, noLane } of before) {
    if (best) expect(best.serves.includes(direction)).toBe(noLane === null);
  }
  const east = before.find(({ direction }) => direction === 4)!.best!;
  const [screen] = east.screens;
  expect(screen!.hiddenShare).toBeGreaterThan(0.9);
  const beside = offsetLine({ type: 'LineString', coordinates: east.line.map(([x, y]) => [x, y]) }, 7, screen!.side, ground.frame); // prettier-ignore
  if (!beside.ok) throw new Error('no line beside the lane');
  const line = toPlane(ground.frame, beside.value[0]!.coordinates);
  const length = Math.min(lineLength(line), screen!.toMeters + 30);
  const course = Array.from({ length: 31 }, (_, i) => {
    return toPosition(ground.frame, placeAt(line, (length * i) / 30).at);
  });
  const berm = parseFeature({
    ...{ type: 'Feature', id: 'screen', kind: 'berm', name: '', locked: false, hidden: false },
    geometry: { type: 'LineString', coordinates: course },
    properties: { heightMeters: screen!.heightMeters },
  });
  if (!berm.ok) throw new Error(berm.problem.what);
  const after = lanes([berm.value]);
  const seen = (lane: typeof east) =>
    lane.exposed.reduce((sum, e) => sum + (e.why === 'seen' ? Math.max(0, Math.min(e.toMeters, screen!.toMeters) - e.fromMeters) : 0), 0); // prettier-ignore
  expect(seen(east)).toBeGreaterThan(240);
  expect(seen(after.find(({ direction }) => direction === 4)!.best!)).toBeLessThan(25);
});
