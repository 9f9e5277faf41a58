import { beforeAll, describe, expect, test } from 'vitest';
import type { PlanAnswers } from '../../geo/answers/answer-plan.ts';
import type { SiteStorm, StormPool, WayOut } from '../../geo/answers/answers.ts';
import { curveNumberOf } from '../../geo/water/curve-numbers.ts';
import { hoursToDry, intakeMetersPerSecond } from '../../geo/water/infiltration.ts';
import { runoffMeters } from '../../geo/water/runoff.ts';
import { curveNumberWhen } from '../../geo/water/soil-wetness.ts';
import { demoAnswers } from '../demo-answers.ts';

const inch = 0.0254;

describe('how long water stands', () => {
  test('a full P1 over a pan of 0.3 µm/s with 3 mm a day: 17 days (trade notes §6.6)', () => {
    expect(hoursToDry(0.5, 3e-7, 0.003) / 24).toBeCloseTo(17.3, 1);
  });

  test('the lesser of surface and layer below rules; else the group (TR-55 appendix A)', () => {
    const unknown = { surfaceKsatMetersPerSecond: null, restrictingKsatMetersPerSecond: null };
    const pan = { surfaceKsatMetersPerSecond: 9e-6, restrictingKsatMetersPerSecond: 3e-7 };
    expect(intakeMetersPerSecond({ group: 'C/D', drained: false, ...pan })).toBe(3e-7);
    const inHour = (group: 'A' | 'B' | 'C' | 'D' | 'B/D', drained = false) =>
      (intakeMetersPerSecond({ group, drained, ...unknown }) * 3600) / inch;
    expect(['A', 'B', 'C'].map((group) => inHour(group as 'A'))).toEqual([
      expect.closeTo(0.3, 9),
      expect.closeTo(0.15, 9),
      expect.closeTo(0.05, 9),
    ]);
    expect(inHour('D')).toBeLessThan(0.05);
    expect(inHour('B/D')).toBe(inHour('D'));
    expect(inHour('B/D', true)).toBe(inHour('B'));
  });

  test('nothing to take it away: it stays', () => {
    expect(hoursToDry(0.1, 0, 0)).toBe(Infinity);
    expect(hoursToDry(0, 0, 0)).toBe(0);
    expect(() => hoursToDry(-1, 0, 0)).toThrow(RangeError);
  });
});

// NEH 630 table 10-1 (from memory): average, dry, wet.
test.each([
  [90, 78, 96],
  [80, 63, 91],
  [75, 57, 88],
  [70, 51, 85],
  [60, 40, 78],
])('curve number %i is %i on dry ground and %i on wet, within 2', (average, dry, wet) => {
  expect(Math.abs(curveNumberWhen(average, 'dry') - dry)).toBeLessThan(2.01);
  expect(Math.abs(curveNumberWhen(average, 'wet') - wet)).toBeLessThan(2.01);
  expect(curveNumberWhen(average, 'average')).toBe(average);
});

describe('the demo in its storm of 1.70 in in 6 h', () => {
  let storm: SiteStorm;
  let answers: PlanAnswers;
  beforeAll(async () => {
    answers = await demoAnswers();
    storm = answers.site.storm!.value;
  }, 60_000);

  test('nine tenths of P1 stand in plot A, all of P3 in B, nothing in C (trade notes §6.3)', () => {
    const inPlot = (id: string) => answers.features[id]!.plotStorm!.value;
    const [p1, p2, p3] = storm.pools as [StormPool, StormPool, StormPool];
    const most = p1.areaSquareMeters + p2.areaSquareMeters;
    expect(inPlot('A').wetAreaSquareMeters).toBeLessThan(1.1 * most);
    expect(inPlot('A').wetAreaSquareMeters).toBeGreaterThan(0.85 * p1.areaSquareMeters);
    expect(inPlot('A').maxDepthMeters).toBe(p1.maxDepthMeters);
    expect(inPlot('B').maxDepthMeters).toBe(p3.maxDepthMeters);
    expect(inPlot('B').standingCubicMeters).toBeGreaterThan(0.9 * p3.volumeCubicMeters);
    expect(inPlot('C').wetAreaSquareMeters).toBe(0);
  });

  test('P1 is 62 % full, 43 to 92 at the widest (trade notes §6.6)', () => {
    const p1 = storm.pools[0]!;
    expect(p1.fullShare).toBeGreaterThan(0.62 * 0.9);
    expect(p1.fullShare).toBeLessThan(0.62 * 1.1);
    expect(p1.fullShareLow).toBeGreaterThan(0.43 * 0.9);
    expect(p1.fullShareHigh).toBeLessThan(0.92 * 1.1);
    expect(p1.fullShareLow).toBeLessThan(p1.fullShare);
    expect(p1.fullShareHigh).toBeGreaterThan(p1.fullShare);
    // 17 days from full: a stop, whatever this storm leaves.
    expect(p1.hoursToDryWhenFull! / 24).toBeGreaterThan(14);
    expect(p1.hoursToDryWhenFull! / 24).toBeLessThan(17.3 * 1.1);
    // 17.3 ac, about.
    expect(p1.catchmentSquareMeters / 4046.86).toBeGreaterThan(17.3 * 0.9);
    expect(p1.catchmentSquareMeters / 4046.86).toBeLessThan(17.3 * 1.1);
  });

  test('every cubic metre stands, leaves or soaks in', () => {
    const { rainCubicMeters: rain, standingCubicMeters, leftSiteCubicMeters, soakedCubicMeters } = storm; // prettier-ignore
    const sum = standingCubicMeters + leftSiteCubicMeters + soakedCubicMeters;
    expect(Math.abs(sum / rain - 1)).toBeLessThan(1e-9);
    // The whole tract, 900 × 720 m: by hand.
    expect(rain / (900 * 720 * 1.7 * inch)).toBeCloseTo(1, 2);
  });

  test('what runs off lies between the woods on B and the woods on D, ponds a little over', () => {
    const [b, d] = (['B', 'D'] as const).map((g) => runoffMeters(1.7 * inch, curveNumberOf('woods-fair', g))); // prettier-ignore
    expect(storm.runoffMeters).toBeGreaterThan(b!);
    expect(storm.runoffMeters).toBeLessThan(d!);
    expect(storm.runoffLowMeters).toBeLessThan(storm.runoffMeters);
    expect(storm.runoffHighMeters).toBeGreaterThan(storm.runoffMeters);
  });

  test('P1 is let out by about 62 yd³, P3 not: the cabin’s water line lies there (§6.3, §6.6)', () => {
    const { ways } = answers.site.waysOut!.value;
    const [p1, , p3] = ways as [WayOut, WayOut, WayOut];
    const yards = p1.notch!.bankCubicMeters.likely / 0.764554857984;
    expect(yards / 62).toBeGreaterThan(0.9);
    expect(yards / 62).toBeLessThan(1.1);
    expect(p1.notch!.maxCutMeters / 0.3048).toBeCloseTo(2, 0);
    expect(p1.notch!.comesOut).toBe(true);
    expect(p1.bars).toEqual([]);
    expect(p3.notch).toBeNull();
    expect(p3.bars).toEqual(['utility']);
    // 880 bank yd³ at 15 % shrink for the notes' 572 m³ and 750 yd³; ours holds 521 m³.
    const fill = p1.fill.bankCubicMeters.likely / 0.764554857984;
    expect(fill / 880).toBeGreaterThan(0.9);
    expect(fill / 880).toBeLessThan(1.1);
    expect(answers.site.waysOut!.findings.map(({ code, level }) => [level, code])).toContainEqual([
      'stop',
      'way-out-barred',
    ]);
  });

  test('P1: cut in 1 to 2 h at the most against a day or more of filling (§6.6), spoil 6 in thick along it', () => {
    const job = answers.site.notchWork!.value.jobs[0]!;
    expect(job.better).toBe('cut');
    expect(job.cutMinutes!.low).toBeGreaterThan(20);
    expect(job.cutMinutes!.high).toBeGreaterThan(60);
    expect(job.cutMinutes!.high).toBeLessThan(120);
    expect(job.fillMinutes.likely).toBeGreaterThan(10 * job.cutMinutes!.likely);
    const { spoil, looseCubicMeters } = answers.site.waysOut!.value.ways[0]!.notch!;
    // 78 loose yd³ of 62 in the bank, over 88 ft and half a foot: 48 ft.
    expect(spoil.widthMeters / 0.3048 / 48).toBeCloseTo(1, 0);
    expect(spoil.widthMeters * spoil.lengthMeters * spoil.thicknessMeters).toBeCloseTo(looseCubicMeters.likely, 6); // prettier-ignore
    expect(spoil.place).toBe('alongside');
  });

  test('P1’s notch in that rain: TR-55 by hand from its catchment', () => {
    const { peak, holdsFrom, inGrass } = answers.site.notchFlows!.value.runs[0]!;
    // Its yearly rain: 2.45 in in 24 h (§6.5).
    expect(peak.dayRainMeters / inch).toBeCloseTo(2.45, 6);
    expect(peak.method).toBe('graphical');
    // By hand: Ia/P and qu from table F-1's rows for 0.3 and 0.35.
    const s = 1000 / peak.curveNumber - 10;
    const ratio = (0.2 * s) / 2.45;
    const q = (2.45 - 0.2 * s) ** 2 / (2.45 + 0.8 * s);
    const t = Math.log10(peak.concentrationHours);
    const at30 = 10 ** (2.46532 - 0.62257 * t - 0.11657 * t * t);
    const at35 = 10 ** (2.41896 - 0.61594 * t - 0.0882 * t * t);
    const at40 = 10 ** (2.36409 - 0.59857 * t - 0.05621 * t * t);
    const [low, high, from] = ratio < 0.35 ? [at30, at35, 0.3] : [at35, at40, 0.35];
    const unit = low + ((high - low) * (ratio - from)) / 0.05;
    const cfs = (unit * q * peak.catchmentSquareMeters) / 1609.344 ** 2;
    expect(peak.cubicMetersPerSecond / 0.3048 ** 3 / cfs).toBeCloseTo(1, 6);
    // By D-infinity a little more than the 17.3 ac of the eight-neighbour rule.
    expect(peak.catchmentSquareMeters / 4046.86).toBeGreaterThan(17.3 * 0.9);
    expect(peak.catchmentSquareMeters / 4046.86).toBeLessThan(17.3 * 1.3);
    expect(holdsFrom).toBe('fair-grass');
    expect(inGrass.depthMeters).toBeLessThan(0.6);
  });
});
