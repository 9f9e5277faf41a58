import { expect, test } from 'vitest';
import { reachOnLattice, scentExposures } from '../../geo/approach/scent-exposure.ts';
import { windsServed } from '../../geo/approach/winds-served.ts';
import { usualDriftRule } from '../../geo/wind/drift-rule.ts';
import { scentDrift, type ScentDrift } from '../../geo/wind/scent-drift.ts';
import { seatReach, type ProtectedGround } from '../../geo/wind/seat-reach.ts';
import { windVerdict } from '../../geo/wind/wind-verdict.ts';
import { seeded } from '../seeded.ts';

const rule = usualDriftRule;
const spot = (id: string, x: number, y: number): ProtectedGround => ({
  id,
  shape: { kind: 'point', paths: [[[x, y]]] },
});
const around = (grounds: readonly ProtectedGround[]) => (x: number, y: number) =>
  seatReach([x, y], grounds, rule.rangeMeters);
const drift = (axisDegrees: number | null): ScentDrift => ({
  axisDegrees,
  halfAngleDegrees: axisDegrees === null ? 180 : 30,
  reachMeters: 274,
  speedMetersPerSecond: 3,
  doubts: [],
});

test('by the angle off the axis: 1 to 15 degrees, straight down to 0 at 30', () => {
  const grounds = [spot('due north', 0, 100)];
  for (const [off, share] of [
    [0, 1],
    [15, 1],
    [21, 0.6],
    [-27, 0.2],
    [30, 0],
    [31, 0],
    [180, 0],
  ] as const) {
    const [at] = scentExposures(around(grounds), [drift((off + 360) % 360)], 15);
    expect(at!(0, 0)).toBeCloseTo(share, 9);
  }
  const [north, calm] = scentExposures(around(grounds), [drift(0), drift(null)], 15);
  expect([north!(0, -175), calm!(0, -175), calm!(50, 50)]).toEqual([0, 0, 0.5]);
});

test('says what the verdict says, at 400 places on 16 winds and in calm', () => {
  const next = seeded(5);
  const grounds: ProtectedGround[] = [
    spot('tree', 100, 100),
    {
      id: 'plot',
      shape: {
        kind: 'area',
        paths: [
          [
            [200, 0],
            [320, 40],
            [280, 160],
          ],
        ],
      },
    },
    {
      id: 'corridor',
      shape: {
        kind: 'line',
        paths: [
          [
            [-200, 300],
            [0, 250],
            [150, 330],
          ],
        ],
      },
    },
  ];
  const drifts = Array.from({ length: 17 }, (_, i) =>
    scentDrift(
      {
        fromDegrees: i === 16 ? null : 22.5 * i,
        speedMetersPerSecond: i === 16 ? 0 : 3,
        stability: 'D',
        slopeFlow: null,
        isSheltered: false,
      },
      rule,
    ),
  );
  const exposures = scentExposures(around(grounds), drifts, rule.coreHalfAngleDegrees);
  const tally = { works: 0, marginal: 0, 'does-not': 0 };
  for (let k = 0; k < 400; k++) {
    const [x, y] = [600 * next() - 200, 600 * next() - 150];
    const reach = seatReach([x, y], grounds, rule.rangeMeters);
    drifts.forEach((one, i) => {
      const { verdict } = windVerdict(reach, one, rule);
      const share = exposures[i]!(x, y);
      const said = share === 1 ? 'does-not' : share > 0 ? 'marginal' : 'works';
      if (said !== verdict) expect({ x, y, i, said, share }).toEqual({ x, y, i, said: verdict });
      tally[verdict]++;
    });
  }
  expect(Math.min(...Object.values(tally))).toBeGreaterThan(400);
});

test('no drift, no answer; a core below 0 throws, one as wide as the drift leaves nothing between', () => {
  expect(scentExposures(around([]), [], 15)).toEqual([]);
  expect(() => scentExposures(around([]), [drift(0)], -1)).toThrow(RangeError);
  for (const core of [30, 40]) {
    const [at] = scentExposures(around([spot('due north', 0, 100)]), [drift(core + 1)], core);
    const [in_] = scentExposures(around([spot('due north', 0, 100)]), [drift(core)], core);
    expect([at!(0, 0), in_!(0, 0)]).toEqual([0, 1]);
  }
});

test('on a lattice: what is seen from the middle of the square, looked up once', () => {
  const grounds = [spot('due north', 8, 92)];
  const kept = reachOnLattice({ west: 0, north: 16 }, grounds, 200, 16);
  // The square's middle is 8, 8.
  expect(kept(0.1, 0.1).arcs).toEqual(seatReach([8, 8], grounds, 200).arcs);
  expect(kept(15.9, 15.9)).toBe(kept(0.1, 0.1));
  expect(kept(-0.1, 8)).not.toBe(kept(0.1, 8));
  expect(kept(-0.1, 8).arcs).toEqual(seatReach([-8, 8], grounds, 200).arcs);
  expect(() => reachOnLattice({ west: 0, north: 0 }, grounds, 200, 0)).toThrow(RangeError);
});

test('winds that a lane serves: metres from which the ground is reached', () => {
  // 200 m eastward, 100 m south of a point: within 30 degrees of a south wind for 2 · 100 · tan 30.
  const line = [
    [-100, 0],
    [100, 0],
  ] as const;
  const winds = scentExposures(
    around([spot('tree', 0, 100)]),
    [drift(0), drift(180), drift(null)],
    15,
  );
  const [south, north, calm] = windsServed(line, winds, 1e-6, 40, 0.5);
  expect(south!.scentedMeters).toBeCloseTo(200 * Math.tan(Math.PI / 6), 0);
  expect(south!.isServed).toBe(false);
  expect(north).toEqual({ scentedMeters: 0, isServed: true });
  expect(calm).toEqual({ scentedMeters: 200, isServed: false });
  // Only where it is sure: within 15 degrees.
  const [sure] = windsServed(line, winds, 1, 60, 0.5);
  expect(sure!.scentedMeters).toBeCloseTo(200 * Math.tan(Math.PI / 12), 0);
  expect(sure!.isServed).toBe(true);
  expect(windsServed(line, [() => NaN], 0.1, 40)[0]!.scentedMeters).toBe(200);
  expect(windsServed([[1, 1]], winds, 0.1, 40)[0]).toEqual({ scentedMeters: 0, isServed: true });
  expect(() => windsServed(line, winds, 0.1, 40, 0)).toThrow(RangeError);
});
