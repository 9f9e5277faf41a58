import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { basisText, inputWords } from '../../app/words/input-words.ts';
import { climbText, exposedTexts, secondReason } from '../../app/words/lane-words.ts';
import { shotRuleWords, sightSentence } from '../../app/words/shot-words.ts';
import { sentenceOf } from '../../app/words/findings.ts';
import { hoursWords, inLineWords, weakWords } from '../../app/words/siting-words.ts';
import {
  doubtSentence,
  roseSentence,
  seasonSentence,
  verdictSentence,
} from '../../app/words/wind-words.ts';
import type { SitePlace } from '../../geo/answers/shot-answers.ts';
import type { HeldAir } from '../../geo/answers/evening-pools.ts';
import type { StandWindNow } from '../../geo/answers/wind-answers.ts';
import { airFeatures, type AirShape } from '../../layers/plan/air-layers.ts';
import { localPlane } from '../../layers/plan/local-plane.ts';
import type { LaneShown } from '../../geo/answers/lane-answers.ts';

const lane = (more: Partial<LaneShown>): LaneShown => ({
  ...{ line: [], accessId: 'gate', lengthMeters: 500, climbMeters: 12, seconds: 840 },
  ...{ exposed: [], scentedMeters: 0, screens: [], serves: [], sit: null },
  ...more,
});
const seen = { fromMeters: 36.576, toMeters: 62.484, why: 'seen', most: 1, mostAtMeters: 40 } as const; // prettier-ignore

describe('ways in', () => {
  it('says of what one is in sight, and what a berm would do', () => {
    // 120 and 205 ft, from 0.3048 by hand.
    expect(exposedTexts(lane({ exposed: [seen] }), 'us')).toEqual(['1+20 to 2+05: in sight of protected ground']); // prettier-ignore
    const screen = { fromMeters: 36.576, toMeters: 62.484, side: 'left', heightMeters: 2.7432, bermMeters: 48.768, hiddenShare: 1 } as const; // prettier-ignore
    expect(exposedTexts(lane({ exposed: [seen], screens: [screen] }), 'us')[0]).toContain('; a berm 9 ft high and 160 ft long on the left would hide you'); // prettier-ignore
    const half = { ...screen, hiddenShare: 0.5 };
    expect(exposedTexts(lane({ exposed: [seen], screens: [half] }), 'us')[0]).toContain('would hide you on 50 % of it'); // prettier-ignore
  });
  it('leaves the truck for the sit of the hour in hand', () => {
    const sit = { part: 'evening', beginsUtc: '2026-11-14T19:53:00Z', leaveTruckUtc: '2026-11-14T19:14:00Z' } as const; // prettier-ignore
    expect(climbText(lane({ sit }), 'America/New_York', 'us')).toBe('climbs 39 ft; leave the truck at 2:14 pm to sit quietly by the evening hours, which begin at 2:53 pm'); // prettier-ignore
    const dawn = { part: 'morning', beginsUtc: '2026-11-14T11:06:00Z', leaveTruckUtc: '2026-11-14T10:27:00Z' } as const; // prettier-ignore
    expect(climbText(lane({ sit: dawn }), 'America/New_York', 'us')).toMatch(/5:27 am to sit quietly by legal light at 6:06 am$/); // prettier-ignore
  });
  it('says why a second way is shown', () => {
    // 840 s are 14 min, 1,020 s 17; 25.908 m in sight are 28 yd.
    const second = lane({ seconds: 1020, scentedMeters: 18.288 });
    expect(secondReason(lane({ exposed: [seen] }), second, 'us')).toBe('Mostly over other ground, for when the best is wet, blocked or used too often: 3 min longer, 28 yd less in sight, 20 yd more of scent on protected ground.'); // prettier-ignore
    expect(secondReason(lane({}), lane({}), 'metric')).toMatch(/: as long\.$/);
  });
  it('has one wind and several, and says who moves what', () => {
    const said = (code: string, values: object) => sentenceOf({ level: 'note', about: [], code, values: values as never }, 'us'); // prettier-ignore
    expect(said('no-lane-on-winds', { directions: '0 1' }).rest).toBe('The stand can be sat on them, but no way in works.'); // prettier-ignore
    expect(said('no-lane-on-winds', { directions: '8' })).toEqual({ lead: 'Do not walk in on S.', rest: 'The stand can be sat on it, but no way in works.' }); // prettier-ignore
    expect(said('out-gives-away', { meters: 91.44 })).toEqual({
      lead: 'Have somebody drive in and move the deer off before you climb down.',
      rest: 'On the evening air your scent reaches protected ground from 100 yd of the way out.',
    });
    expect(said('no-stand-on-mornings', { directions: '2', hours: 7 }).lead).toBe('No stand works on NE in the morning.'); // prettier-ignore
    expect(said('no-stand-on-evenings', { directions: '2', hours: 7 }).lead).toBe('No stand works on NE in the evening.'); // prettier-ignore
  });
});

it('a wind that shifts is said to come most often, not mostly, from somewhere', () => {
  const rose = { hours: 100, calmHours: 6, variableHours: 0, directionHours: Array.from({ length: 16 }, (_, i) => (i === 14 ? 17 : 5)), prevailing: 14, meanMetersPerSecond: 3, steadiness: 0.2 }; // prettier-ignore
  expect(roseSentence('At dusk', rose, 'us')).toBe('At dusk most often from the northwest (17 % of hours), shifting, 7 mph on average; calm 6 %.'); // prettier-ignore
});

it('where a stand could go: hours as its panel says them, and who must not sit at once', () => {
  const part = (works: number) => ({ works, marginal: 0, doesNot: 100 - works, doubtful: 0 });
  const place = { season: { morning: part(40), evening: part(43) }, worksOn: [0, 14], inLine: [{ otherId: 'A1', way: 'both', unitsAway: 18, bearingDegrees: 0, at: [0, 0] }] } as unknown as SitePlace; // prettier-ignore
  expect(hoursWords(place)).toBe('Works in 40 % of the legal morning hours and 43 % of the evening hours; half of them or more on N and NW.'); // prettier-ignore
  expect(seasonSentence(place.season)).toBe('Works in 40 % of the legal morning hours and 43 % of the evening hours.'); // prettier-ignore
  expect(inLineWords(place, (id) => id, 'us')).toBe('Never sit it at once with A1, 18 yd off: each lies in the other’s arc and range.'); // prettier-ignore
  const worseThan = { hours: 0.1, seen: 0, lane: 0.7 };
  expect(weakWords({ ...place, weakest: 'lane', worseThan })).toBe('Weak side: the way in (70 % of the places are better).'); // prettier-ignore
  expect(weakWords({ ...place, weakest: null, worseThan })).toBe('No weak side: in nothing are more places better than worse.'); // prettier-ignore
  const few = (count: number) => sentenceOf({ level: 'note', about: ['B'], code: 'siting-few', values: { count, apartMeters: 68.58 } }, 'us'); // prettier-ignore
  expect(few(2)).toEqual({ lead: 'Only 2 places differ here.', rest: 'Every other that works lies within 75 yd of one of them on the same side of the plot, or close to a stand that is drawn.' }); // prettier-ignore
  expect(few(1).lead).toBe('One place is all there is here.');
  const { lead, rest } = sentenceOf({ level: 'note', about: ['B'], code: 'siting-stand-there', values: { unitsAway: 18, stand: 'Stand 1', apartMeters: 40 } }, 'us'); // prettier-ignore
  expect(`${lead} ${rest}`).toBe('You have a stand at the best place already. Stand 1 is 18 yd from it. The places listed lie 44 yd or more from every stand that is drawn.'); // prettier-ignore
});

it('what a stand sees, with how much more there is to gain', () => {
  const floors = [4, 8, 12, 16, 20].map((feet) => feet * 0.3048);
  const said = (percents: readonly number[], knee: number | null) =>
    sightSentence({ plotId: 'B', heights: floors.map((floorMeters, i) => ({ floorMeters, seenShare: percents[i]! / 100 })), kneeMeters: knee === null ? null : floors[knee]!, ownFloorMeters: floors[2]!, ownShare: percents[2]! / 100, missingShare: 0 }, 'Bench plot', 'us'); // prettier-ignore
  expect(said([40, 68, 78, 84, 87], 3)).toBe('From its 12 ft floor 78 % of Bench plot; past 16 ft (84 %) more height shows little more (87 % at 20 ft).'); // prettier-ignore
  expect(said([10, 20, 30, 40, 50], 4)).toMatch(
    /; more height shows more all the way \(50 % at 20 ft\)\.$/,
  );
  expect(said([90, 90, 90, 90, 90], null)).toMatch(/; more height gains nothing\.$/);
});

describe('one way of saying a distance, in the units of the plan', () => {
  const basis = {
    ...{ method: [], source: '', confidence: '' },
    inputs: { rangeMeters: 27.432, stepMeters: 6.096, plainWindMetersPerSecond: 4, lightMeters: 0.3048, parts: 3 }, // prettier-ignore
  };
  it('fills the sentences of a basis', () => {
    const text = 'Every {stepMeters} out to {rangeMeters} in {plainWindMetersPerSecond}, {parts} and {lightMeters} over.'; // prettier-ignore
    // 27.432 m are 30 yd, 6.096 m 20 ft, 4 m/s 8.9 mph, 0.3048 m 1 ft.
    expect(basisText(text, basis, 'us')).toBe('Every 20 ft out to 30 yd in 9 mph, 3 and 1 ft over.'); // prettier-ignore
    expect(basisText(text, basis, 'metric')).toBe('Every 6.1 m out to 27 m in 4.0 m/s, 3 and 0.3 m over.'); // prettier-ignore
  });
  it('says the range in the list as in the sentence', () => {
    expect(inputWords(basis.inputs, 'us')[0]).toEqual({ label: 'Range', text: '30 yd' });
    expect(shotRuleWords.rangeMeters.help!('us')).toBe('bow 30 yd, shotgun 150 yd, rifle 250 yd (common practice)'); // prettier-ignore
    expect(shotRuleWords.rangeMeters.help!('metric')).toBe('bow 27 m, shotgun 137 m, rifle 229 m (common practice)'); // prettier-ignore
    expect(shotRuleWords.dwellingMeters.help!('metric')).toContain('mostly 152 m');
  });
});

/** Every `{key}` of a basis is one of its inputs, and no text of an answer about stands has fixed units. */
describe('what answers say of themselves', () => {
  const files = (folder: string): string[] =>
    readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
      const path = join(folder, entry.name);
      return entry.isDirectory() ? files(path) : /\.tsx?$/.test(path) ? [path] : [];
    });
  const withoutComments = (path: string) =>
    readFileSync(path, 'utf8').replace(/\/\*[\s\S]*?\*\/|(^|\s)\/\/.*$/gm, ' ');

  it('never names our notes', () => {
    const found = [...files('geo'), ...files('app'), ...files('layers')].filter((path) =>
      /trade notes|handbook (§|section)|§\s?\d/i.test(withoutComments(path)),
    );
    // The gaps of a berm are in other hands.
    expect(found.filter((path) => !path.endsWith('berm-gaps.ts'))).toEqual([]);
  });
  it('of stands has no feet, yards, metres or miles an hour of its own', () => {
    const stands = files('geo/answers').filter((path) =>
      /\/(stand-|siting|site-bands|seat)/.test(path),
    );
    expect(stands.length).toBeGreaterThan(6);
    for (const path of stands) {
      const strings = withoutComments(path).match(/'[^'\n]*'/g) ?? [];
      expect(
        strings.filter((text) => /\d (ft|yd|mph|m|m\/s)\b/.test(text)),
        path,
      ).toEqual([]);
    }
  });
});

it('evening air that stands: what holds it, how far off, over what, and which comes first', () => {
  const names: Record<string, string> = { low: 'Low berm', A: 'Bench plot' };
  const nameOf = (id: string) => names[id] ?? id;
  const grounds = [{ id: 'A', meters: 20, share: 0.8 }];
  // 68.58 m are 75 yd; 2,023 m² are 0.50 ac.
  const pool: HeldAir = { meters: 68.58, share: 1, heldBy: ['low'], depthMeters: 0.4, areaSquareMeters: 2023.4, grounds }; // prettier-ignore
  const now = (more: Partial<StandWindNow>): StandWindNow => ({
    ...{ verdict: 'does-not', reached: [], towardDegrees: 143, halfAngleDegrees: 49.2 },
    ...{ reachMeters: 274.32, seatMetersPerSecond: 0, stability: 'F', doubts: ['pooled-air'] },
    ...{ pools: [pool], ...more },
  });
  expect(verdictSentence(now({}), nameOf, 'us')).toBe('Does not work: evening air from here runs down behind Low berm, 75 yd off, and stands there over Bench plot. Scent goes SE 143°, within 49° either side, and nothing protected lies in it within 300 yd.'); // prettier-ignore
  const also = verdictSentence(now({ reached: [{ id: 'A', meters: 9.144, share: 1, isInCore: true }] }), nameOf, 'us'); // prettier-ignore
  expect(also).toMatch(/^Does not work: scent goes .* reaches Bench plot, 10 yd off \(100 % of it\)\. Evening air from here runs down behind Low berm/); // prettier-ignore
  const harmless = now({ verdict: 'works', pools: [{ ...pool, heldBy: [], meters: 0, grounds: [] }] }); // prettier-ignore
  expect(verdictSentence(harmless, nameOf, 'us')).toMatch(/\. Evening air stands here in a hollow, over nothing protected\.$/); // prettier-ignore
  expect(doubtSentence(now({}))).toBe('Low confidence: nobody measures where evening air stands.');
  const said = (values: object) => sentenceOf({ level: 'note', about: [], code: 'evening-air-pools', values: values as never }, 'us'); // prettier-ignore
  const held = { verdict: 'does-not', meters: 68.58, areaSquareMeters: 2023.4, depthMeters: 0.4, holders: 1 }; // prettier-ignore
  expect(said(held)).toEqual({
    lead: 'Do not sit it on a still evening.',
    rest: 'Air that drains from it this evening stands behind what is drawn 75 yd off, about 0.50 ac of it, and scent with it, on ground that it must not reach. A gap that lets water out there lets the air out. Low confidence: try it with powder or milkweed.',
  });
  expect(said({ ...held, verdict: 'works', holders: 0, meters: 0 }).rest).toMatch(/stands in a hollow at the seat, about 0.50 ac of it, and scent with it\. Low/); // prettier-ignore
});

it('air that stands is drawn as level strokes in it, and its way as strokes towards it', () => {
  const plane = localPlane([-75, 36]);
  const place = (x: number, y: number) => plane.toPosition([x, y]) as [number, number];
  const ring = [place(0, 0), place(60, 0), place(60, 40), place(0, 40), place(0, 0)];
  const shape = { seat: place(30, 140), towardDegrees: 180, halfAngleDegrees: 30, reachMeters: 100 } as const; // prettier-ignore
  const strokes = (pools: AirShape['pools']) => airFeatures([{ ...shape, pools }]).features;
  const drift = strokes([]).length;
  const more = strokes([{ outline: [[ring]], way: [place(30, 140), place(30, 40)] }]).slice(drift);
  const lines = more.map(({ geometry }) => {
    if (geometry.type !== 'LineString') throw new Error(geometry.type);
    return geometry.coordinates.map((at) => plane.toPlane([at[0]!, at[1]!]));
  });
  const level = lines.filter(([a, b]) => Math.abs(a![1] - b![1]) < 0.01);
  // Six or seven rows of six over 60 × 40 m.
  expect(level.length).toBeGreaterThan(30);
  for (const [a, b] of level) {
    const middle = [(a![0] + b![0]) / 2, (a![1] + b![1]) / 2] as const;
    expect(Math.max(Math.abs(middle[0] - 30) - 30, Math.abs(middle[1] - 20) - 20)).toBeLessThan(0.01); // prettier-ignore
  }
  const down = lines.filter((line) => !level.includes(line));
  expect(down.length).toBe(8);
  for (const line of down) expect(line[0]![1]).toBeGreaterThan(line.at(-1)![1]);
});
