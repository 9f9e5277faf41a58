import { readFileSync } from 'node:fs';
import { jointFindings } from '../../geo/answers/joint-findings.ts';
import { beforeAll, describe, expect, it } from 'vitest';
import { demoFrame, ORIGIN } from '../../fixtures/generator/plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import type { StandShots } from '../../geo/answers/shot-answers.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import { metersFromFeet } from '../../geo/frame/units.ts';
import { usualShotRules } from '../../geo/plan/shot-rules.ts';
import { answersOf, groundOf, neededFor } from '../answers-rig.ts';

// Trade notes §6.3: A1 and A2 in each other's arc at 202 yd; B1 492 ft from the dwelling, needs 500;
// it looks within 10 degrees of A1, 210 yd; moved it is 505 ft off.
const plan = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
  features: PlanFeature[];
};
let ground: GroundInUse;
let demo: ReturnType<typeof shots>;
beforeAll(async () => {
  const bytes = new Uint8Array(readFileSync('fixtures/demo/ground.tif'));
  const opening = await openGround([memorySource('ground.tif', bytes)]);
  if (opening.kind !== 'opened') throw new Error(opening.kind);
  ground = groundOf(opening.grid, openFrame(opening.grid.frame), opening.draft);
  demo = shots();
});

/** The plan with one of its stands. */
const alone = (id: string, features = plan.features) =>
  features.filter((one) => one.kind !== 'stand' || one.id === id);

const place = (x: number, y: number): Position => demoFrame.toLngLat(ORIGIN.east + x, ORIGIN.north + y) as Position; // prettier-ignore
const movedTo = (id: string, at: Position) =>
  plan.features.map((one) =>
    one.id === id ? { ...one, geometry: { type: 'Point', coordinates: at } } : one,
  ) as PlanFeature[];

function shots(
  features: readonly PlanFeature[] = plan.features,
  settings: Partial<Settings> = {},
  on: GroundInUse | null = ground,
) {
  const { features: found } = answersOf(features, on, settings, neededFor('standShots'));
  const of = (id: string) => found[id]!.standShots!;
  const codes = (id: string) => of(id).findings.map(({ level, code, about }) => [level, code, ...about.slice(1)].join(' ')); // prettier-ignore
  return { of, codes };
}
const at = ({ stretches }: StandShots, degrees: number) =>
  stretches!.filter(({ fromDegrees, toDegrees }) => [0, 360].some((turn) => degrees + turn >= fromDegrees && degrees + turn <= toDegrees)); // prettier-ignore

describe('the demo’s stands', () => {
  it('A1 and A2 are a stop for both, and so are B1 and A1', () => {
    const { of, codes } = demo;
    expect(codes('A1')).toEqual(['stop stand-in-arc A2', 'stop stand-in-arc B1']);
    expect(codes('A2')).toEqual(['stop stand-in-arc A1']);
    expect(codes('B1')).toEqual(['stop stand-in-arc A1', 'stop stand-too-near heron-9']);
    expect(of('A1').value.others).toMatchObject([
      { otherId: 'A2', way: 'both', unitsAway: 202 },
      // 209.5 yd, 210 in the notes: shown as if nearer.
      { otherId: 'B1', way: 'to-here', unitsAway: 209 },
    ]);
  });

  it('of a pair one stop in the worksheet, under the stand that looks at the other', () => {
    const all = ['B1', 'A2', 'A1'].flatMap((id) => demo.of(id).findings);
    const stops = jointFindings(all).filter(({ code }) => code === 'stand-in-arc');
    // Two pairs in the trade notes: A1 with A2 (each in the other's arc), and A1 in B1's.
    expect(stops.map(({ about }) => about)).toEqual([['B1', 'A1'], ['A2', 'A1']]); // prettier-ignore
    expect(stops.map(({ values }) => [values['way'], values['other']])).toEqual([['from-here', null], ['both', null]]); // prettier-ignore
    // Whichever stand comes first, the one that looks is the one it is said of.
    const other = jointFindings([...all].reverse()).filter(({ code }) => code === 'stand-in-arc');
    expect(other.map(({ about }) => about)).toContainEqual(['B1', 'A1']);
    expect(jointFindings(all)).toHaveLength(all.length - 2);
  });

  it('B1 is 8 ft short of its 500 ft, and passes where the notes move it', () => {
    const [house] = shots()
      .of('B1')
      .value.setbacks.filter(({ from }) => from === 'dwelling');
    expect(house).toMatchObject({ unitsAway: 492, unitsShort: 8 });
    // Away from the dwelling is WSW.
    expect(Math.abs(house!.awayDegrees! - 240)).toBeLessThan(2);
    const moved = shots(movedTo('B1', place(522.5, 426.5)));
    expect(moved.codes('B1')).toEqual(['stop stand-in-arc A1']);
    expect(moved.of('B1').value.setbacks.find(({ from }) => from === 'dwelling')).toMatchObject({ unitsAway: 505, unitsShort: 0 }); // prettier-ignore
    // In metres: 150.03 m of 152.4.
    const metric = shots(plan.features, { units: 'metric' }).of('B1').value.setbacks;
    expect(metric.find(({ from }) => from === 'dwelling')).toMatchObject({ unitsAway: 150, unitsShort: 3 }); // prettier-ignore
  });

  it('the ring of A1: blocked towards A2, earth behind the plot to the northwest, nothing judged off the plots', () => {
    const { value } = demo.of('A1');
    // A2 bears 234.2: blocked 5 degrees to either side, rounded up to the next direction asked.
    const toA2 = value.stretches!.filter(({ about }) => about === 'A2');
    expect(toA2).toHaveLength(1);
    expect(toA2[0]!.fromDegrees).toBeLessThanOrEqual(229.3);
    expect(toA2[0]!.toDegrees).toBeGreaterThanOrEqual(239.1);
    expect(toA2[0]!.toDegrees - toA2[0]!.fromDegrees).toBeLessThanOrEqual(14);
    expect(at(value, 278)).toMatchObject([{ state: 'allowed' }]);
    expect(at(value, 150).every(({ state }) => state !== 'allowed')).toBe(true);
    // All round, without a hole.
    const spans = value.stretches!.reduce((sum, one) => sum + one.toDegrees - one.fromDegrees, 0);
    expect(spans).toBeGreaterThan(300);
    for (let k = 0; k < 360; k += 2) expect(at(value, k).length).toBeGreaterThan(0);
  });

  it('numbers of one’s own decide: a bow reaches neither stand, and 490 ft is enough of a setback', () => {
    const bows = plan.features.map((one) =>
      one.kind === 'stand' ? { ...one, properties: { ...one.properties, weapon: 'bow' } } : one,
    ) as PlanFeature[];
    for (const id of ['A1', 'A2', 'B1']) expect(shots(bows).codes(id).filter((c) => c.startsWith('stop'))).toEqual([]); // prettier-ignore
    const rifle = { ...usualShotRules.rifle, dwellingMeters: 149.352 };
    expect(shots(plan.features, { shotRules: { ...usualShotRules, rifle } }).codes('B1')).toEqual(['stop stand-in-arc A1']); // prettier-ignore
    // Looking elsewhere, or in a narrower arc, B1 has nobody before it.
    expect(shots(plan.features, { shotHalfArcDegrees: 8 }).of('B1').value.others).toEqual([]);
  });
});

describe('what is not known or not right is said', () => {
  it('off the tract, in no-go ground, off the ground, no ground, no line, no weapon', () => {
    expect(shots(alone('B1', movedTo('B1', place(655, 500)))).codes('B1')).toEqual(expect.arrayContaining(['stop stand-off-tract', 'stop stand-too-near heron-9'])); // prettier-ignore
    const far = shots(alone('B1', movedTo('B1', place(5000, 5000))));
    expect(far.of('B1').value.stretches).toBeNull();
    expect(far.codes('B1')).toEqual(expect.arrayContaining(['stop stand-off-tract', 'caution shots-no-ground'])); // prettier-ignore
    const noGo = { ...plan.features.find(({ id }) => id === 'stream-buffer')!, id: 'keep-out', geometry: { type: 'Polygon', coordinates: [[place(500, 400), place(550, 400), place(550, 450), place(500, 450), place(500, 400)]] } } as PlanFeature; // prettier-ignore
    expect(shots(alone('B1', [...plan.features, noGo])).codes('B1')).toContain(
      'stop stand-in-no-go keep-out',
    );

    const bare = shots(plan.features, {}, null);
    expect(bare.of('B1').value.stretches).toBeNull();
    expect(bare.codes('B1')).toEqual(expect.arrayContaining(['stop stand-too-near heron-9', 'caution shots-no-ground'])); // prettier-ignore
    const noLine = shots(alone('A1').filter(({ kind }) => kind !== 'property-line'));
    expect(noLine.of('A1').value.knowsTract).toBe(false);
    expect(noLine.codes('A1')).toContain('caution shots-no-line');
    const { findings } = noLine.of('A1');
    const twice = jointFindings([...findings, ...findings.map((one) => ({ ...one, about: ['A2'] }))]); // prettier-ignore
    expect(twice.filter(({ code }) => code === 'shots-no-line').map(({ about }) => about)).toEqual([[]]); // prettier-ignore

    const unset = plan.features.map((one) =>
      one.id === 'A1' ? { ...one, properties: { ...one.properties, weapon: null } } : one,
    ) as PlanFeature[];
    expect(shots(alone('A1', unset)).of('A1').value).toMatchObject({
      weapon: 'rifle',
      weaponIsSet: false,
    });
    expect(shots(alone('A1', unset)).codes('A1')).toContain('note weapon-not-set');
  });

  it('two stands on one spot, a stand on the house, a broken line', () => {
    const same = shots(movedTo('B1', place(392, 292)));
    expect(same.codes('B1')).toContain('stop stand-in-arc A1');
    expect(same.of('B1').value.others.find(({ otherId }) => otherId === 'A1')!.unitsAway).toBe(0);
    const home = shots(alone('B1', movedTo('B1', place(655, 505)))).of('B1').value.setbacks[0]!;
    expect(home).toMatchObject({ from: 'dwelling', unitsAway: 0, unitsShort: 500, awayDegrees: null }); // prettier-ignore
    const broken = plan.features.map(
      (one) =>
      one.id === 'parcel' ? { ...one, geometry: { type: 'Polygon', coordinates: [[place(0, 0), place(10, 10), place(0, 10), place(10, 0), place(0, 0)]] } } : one, // prettier-ignore
    ) as PlanFeature[];
    expect(shots(alone('A1', broken)).of('A1').value.knowsTract).toBe(false);
  });
});

describe('what a stand sees of its plot', () => {
  const seen = (features: readonly PlanFeature[]) =>
    answersOf(features, ground, {}, neededFor('seenByHeight')).features['B1']!.seenByHeight!;

  it('all of it over open ground; over a berm more from higher up', () => {
    const open = seen(alone('B1')).value;
    expect(open).toMatchObject({ plotId: 'B', kneeMeters: null, ownShare: 1 });
    expect(open.heights.map(({ floorMeters }) => Math.round(floorMeters / 0.3048))).toEqual(Array.from({ length: 17 }, (_, i) => 4 + i)); // prettier-ignore
    // Across the way to the plot, 6 m before the stand, as high as 12 ft.
    const berm = {
      ...{ id: 'wall', kind: 'berm', name: '', locked: false, hidden: false },
      geometry: { type: 'LineString', coordinates: [place(509, 446), place(533, 414)] },
      properties: { section: 'parabola', baseWidthMeters: 4, heightMeters: 3.66, gaps: [], toBurn: false }, // prettier-ignore
    } as PlanFeature;
    const { value, findings } = seen([...alone('B1'), berm]);
    const shares = value.heights.map(({ seenShare }) => seenShare);
    for (let i = 1; i < shares.length; i++)
      expect(shares[i]).toBeGreaterThanOrEqual(shares[i - 1]!);
    // An eye at 8 ft, far under its top, sees little over it; at 24 ft nearly all.
    expect(shares[0]).toBeLessThan(0.2);
    expect(shares[16]).toBeGreaterThan(0.9);
    expect(value.kneeMeters).toBeGreaterThan(metersFromFeet(4));
    expect(value.ownShare).toBeCloseTo(shares[8]!, 6);
    expect(findings.every(({ level }) => level === 'note')).toBe(true);
  });

  it('no plot near, or no ground under it: no answer', () => {
    const far = alone('B1').filter(({ kind }) => kind !== 'plot');
    expect(answersOf(far, ground, {}, neededFor('seenByHeight')).features['B1']?.seenByHeight).toBeFalsy(); // prettier-ignore
    const off = alone('B1', movedTo('B1', place(-20, 400)));
    expect(answersOf(off, ground, {}, neededFor('seenByHeight')).features['B1']?.seenByHeight).toBeFalsy(); // prettier-ignore
  });
});

it('a drone’s fine ground is joined to cells of 2 ft and more, and says the same', () => {
  const { width, cellWidth, cellHeight, data, ...place } = ground.grid;
  // The half of the tract round B1, each cell cut into four by four.
  const [left, top, wide, high] = [400, 200, 400, 300];
  const fine = new Float32Array(wide * high * 16);
  for (let i = 0; i < fine.length; i++) {
    const [row, column] = [Math.floor(i / (wide * 4)), i % (wide * 4)];
    fine[i] = data[(top + (row >> 2)) * width + left + (column >> 2)]!;
  }
  const grid = { ...place, width: wide * 4, height: high * 4, cellWidth: cellWidth / 4, cellHeight: cellHeight / 4, west: place.west + left * cellWidth, north: place.north - top * cellHeight, data: fine }; // prettier-ignore
  const part = new Float32Array(wide * high);
  for (let i = 0; i < part.length; i++) part[i] = data[(top + Math.floor(i / wide)) * width + left + (i % wide)]!; // prettier-ignore
  const whole = { ...grid, width: wide, height: high, cellWidth, cellHeight, data: part };
  const answer = (of: typeof grid) => answersOf(alone('B1'), groundOf({ ...of, cellGroundAreaSquareMeters: 1 }, ground.frame), {}, neededFor('standShots')).features['B1']!.standShots!.value; // prettier-ignore
  expect(answer(grid)).toEqual(answer(whole));
});
