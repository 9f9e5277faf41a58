import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { debrisPatches } from '../../geo/debris/debris-patches.ts';
import { pushPlan, usualPushing, type DebrisSink } from '../../geo/debris/push-plan.ts';
import { cheapestTransport, nearestFirst, transportCost } from '../../geo/debris/transport.ts';
import { problemOf, valueOf } from '../result-value.ts';

const runs = { seed: 20_261_129, numRuns: 200 };
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Amounts and a table of costs; `amount` and `cost` say of what kind. */
function problems(amount: fc.Arbitrary<number>, cost: fc.Arbitrary<number>, most: number) {
  return fc
    .tuple(fc.integer({ min: 1, max: most }), fc.integer({ min: 1, max: most }))
    .chain(([sources, sinks]) => {
      const list = (of: fc.Arbitrary<number>, length: number) =>
        fc.array(of, { minLength: length, maxLength: length });
      return fc.record({
        supplies: list(amount, sources),
        rooms: list(amount, sinks),
        costs: fc.array(list(cost, sinks), { minLength: sources, maxLength: sources }),
      });
    });
}

const sum = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);

/** Every way to send whole units, as many as there is room for: the least cost. */
function bruteForce(supplies: number[], rooms: number[], costs: number[][]): number {
  const known = new Map<string, [number, number]>();
  const from = (source: number, room: number[]): [sent: number, cost: number] => {
    if (source === supplies.length) return [0, 0];
    const key = `${source} ${room.join()}`;
    const before = known.get(key);
    if (before) return before;
    let best: [number, number] = [-1, 0];
    const share = (sink: number, left: number, next: number[], sent: number, cost: number) => {
      if (sink === room.length) {
        const [moreSent, moreCost] = from(source + 1, next);
        const whole: [number, number] = [sent + moreSent, cost + moreCost];
        if (whole[0] > best[0] || (whole[0] === best[0] && whole[1] < best[1])) best = whole;
        return;
      }
      for (let units = 0; units <= Math.min(left, next[sink]!); units++) {
        const after = next.with(sink, next[sink]! - units);
        share(sink + 1, left - units, after, sent + units, cost + units * costs[source]![sink]!);
      }
    };
    share(0, supplies[source]!, room, 0, 0);
    known.set(key, best);
    return best;
  };
  return from(0, rooms)[1];
}

describe('the transport problem', () => {
  test('whole units, whole costs: what trying everything finds', () => {
    const small = problems(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 9 }), 3);
    fc.assert(
      fc.property(small, ({ supplies, rooms, costs }) => {
        const flows = cheapestTransport(supplies, rooms, costs);
        expect(sum(flows.map(({ amount }) => amount))).toBeCloseTo(Math.min(sum(supplies), sum(rooms)), 6); // prettier-ignore
        expect(transportCost(flows, costs)).toBeCloseTo(bruteForce(supplies, rooms, costs), 5);
      }),
      runs,
    );
  });

  test('no more than there is, no more than fits, all that can be, never dearer than nearest first', () => {
    const any = problems(fc.oneof(number(0, 50), fc.constant(5)), fc.oneof(number(0, 200), fc.constant(30)), 12); // prettier-ignore
    fc.assert(
      fc.property(any, ({ supplies, rooms, costs }) => {
        const flows = cheapestTransport(supplies, rooms, costs);
        const greedy = nearestFirst(supplies, rooms, costs);
        const least = 1e-6;
        supplies.forEach((supply, i) => {
          const sent = sum(flows.filter(({ source }) => source === i).map(({ amount }) => amount));
          expect(sent).toBeLessThanOrEqual(supply + 1e-9);
        });
        rooms.forEach((room, j) => {
          const got = sum(flows.filter(({ sink }) => sink === j).map(({ amount }) => amount));
          expect(got).toBeLessThanOrEqual(room + 1e-5);
        });
        const placed = sum(flows.map(({ amount }) => amount));
        const could = Math.min(sum(supplies), sum(rooms));
        expect(Math.abs(placed - could)).toBeLessThan(Math.max(1, could) * least);
        expect(transportCost(flows, costs)).toBeLessThanOrEqual(
          transportCost(greedy, costs) + 1e-9,
        );
      }),
      runs,
    );
  });

  test('by hand: 5 and 5 to rooms of 6 and 6 cost 14, nearest first 22', () => {
    const [given, costs] = [[[5, 5], [6, 6]], [[1, 2], [1, 4]]] as const; // prettier-ignore
    expect(transportCost(cheapestTransport(given[0], given[1], costs), costs)).toBeCloseTo(14, 6);
    expect(transportCost(nearestFirst(given[0], given[1], costs), costs)).toBe(22);
    expect(() => cheapestTransport([1, NaN], [1], [[1], [1]])).toThrow(RangeError);
    expect(() => cheapestTransport([1], [1], [[-1]])).toThrow(RangeError);
    expect(() => cheapestTransport([1], [1], [])).toThrow(RangeError);
  });
});

const rectangle = (x: number, y: number, width: number, height: number) => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
] as const; // prettier-ignore
const level = () => 100;

describe('patches of a clearing', () => {
  test('hold what the areas hold, each on its own ground, no more of them than asked', () => {
    const areas = fc.array(
      fc.tuple(number(0, 300), number(0, 300), number(1, 200), number(1, 200), number(0, 2000)),
      { minLength: 1, maxLength: 4 },
    );
    fc.assert(
      fc.property(areas, fc.integer({ min: 1, max: 300 }), (all, most) => {
        const given = all.map(([x, y, w, h, cubicMeters]) => ({
          rings: [rectangle(x, y, w, h)],
          cubicMeters,
        }));
        const patches = valueOf(debrisPatches(given, most));
        expect(patches.length).toBeLessThanOrEqual(most);
        const total = sum(all.map((one) => one[4]));
        expect(Math.abs(sum(patches.map((p) => p.cubicMeters)) - total)).toBeLessThan(1e-6);
        // Its middle by volume is that of the areas, to the size of a cell.
        if (!(total > 1)) return;
        const middle = sum(all.map(([x, , w, , v]) => (x + w / 2) * v)) / total;
        const found = sum(patches.map((p) => p.at[0] * p.cubicMeters)) / total;
        expect(Math.abs(found - middle)).toBeLessThan(most > 20 ? 12 : 120);
      }),
      runs,
    );
  });

  test('100 × 50 m in at most 50: fifty of 10 × 10', () => {
    const area = { rings: [rectangle(0, 0, 100, 50)], cubicMeters: 500 };
    const patches = valueOf(debrisPatches([area], 50));
    expect(patches).toHaveLength(50);
    for (const { cubicMeters } of patches) expect(cubicMeters).toBeCloseTo(10, 9);
    expect(patches[0]!.at[0]).toBeCloseTo(5, 9);
    expect(patches[0]!.at[1]).toBeCloseTo(45, 9);
  });
});

describe('a push plan', () => {
  const clearing = { rings: [rectangle(0, 0, 100, 50)], cubicMeters: 500 };
  const berm = (room: number, parts = 10): DebrisSink[] =>
    Array.from({ length: parts }, (_, i) => {
      const at = [(100 * (i + 0.5)) / parts, 0] as const;
      return { id: 'berm', at, cubicMeters: room / parts, reachMeters: 0 };
    });

  test('a berm along the long side: 25 m on average, straight down, nothing left over', () => {
    const rules = { ...usualPushing, mostPatches: 50 };
    const plan = valueOf(pushPlan([clearing], berm(600), level, rules));
    expect(plan.meanMeters).toBeCloseTo(25, 6);
    expect(plan.greatestMeters).toBeCloseTo(45, 6);
    expect(plan.leftOverCubicMeters).toBe(0);
    expect(plan.uphillShare).toBe(0);
    // One from each part of the berm, straight across.
    expect(plan.arrows).toHaveLength(10);
    for (const { from, to, cubicMeters } of plan.arrows) {
      expect(cubicMeters).toBeCloseTo(50, 6);
      expect(from[0]).toBeCloseTo(to[0], 6);
      expect(from[1]).toBeCloseTo(25, 6);
    }
  });

  test('too little room: the rest is left over, and it is what lies farthest', () => {
    const rules = { ...usualPushing, mostPatches: 50 };
    const plan = valueOf(pushPlan([clearing], berm(300), level, rules));
    expect(plan.placedCubicMeters).toBeCloseTo(300, 6);
    expect(plan.leftOverCubicMeters).toBeCloseTo(200, 6);
    expect(plan.greatestMeters).toBeCloseTo(25, 6);
    const none = valueOf(pushPlan([clearing], [], level));
    expect(none).toMatchObject({ leftOverCubicMeters: 500, meanMeters: null, uphillShare: null });
    expect(valueOf(pushPlan([], berm(300), level))).toMatchObject({
      totalCubicMeters: 0,
      flows: [],
    });
  });

  test('none is pushed farther than the longest push, and as much as there is room for in reach is', () => {
    const rules = { ...usualPushing, mostPatches: 50 };
    // Rows of patches at 5, 15, 25, 35 and 45 m: three of five lie within 26 m.
    const near = valueOf(pushPlan([clearing], berm(600), level, { ...rules, farthestMeters: 26 }));
    expect(near.placedCubicMeters).toBeCloseTo(300, 6);
    expect(near.leftOverCubicMeters).toBeCloseTo(200, 6);
    expect(near.greatestMeters).toBeCloseTo(25, 6);
    const none = valueOf(pushPlan([clearing], berm(600), level, { ...rules, farthestMeters: 2 }));
    expect(none).toMatchObject({ leftOverCubicMeters: 500, meanMeters: null, flows: [] });
    // The most that can be placed, by flow: a by 1 only, b by either; the cheaper would leave a over.
    const costs = [[5, Infinity], [1, 2]]; // prettier-ignore
    expect(cheapestTransport([4, 4], [4, 4], costs)).toEqual([
      { source: 0, sink: 0, amount: 4 },
      { source: 1, sink: 1, amount: 4 },
    ]);
  });

  test('up and down by the ground; unknown ground is unknown; reach shortens the push', () => {
    const falling = (x: number, y: number) => (x > 200 ? NaN : 100 + 0.1 * y);
    const [low, high] = [0, 50].map((y): DebrisSink => {
      return { id: `at ${y}`, at: [50, y], cubicMeters: 1000, reachMeters: 5 };
    });
    expect(valueOf(pushPlan([clearing], [low!], falling)).uphillShare).toBe(0);
    // But for 8 of 200 patches on the top row, too far to the side for their 0.25 m to be 1 in 100.
    expect(valueOf(pushPlan([clearing], [high!], falling)).uphillShare).toBeCloseTo(0.96, 9);
    expect(valueOf(pushPlan([clearing], [high!], () => NaN)).uphillShare).toBeNull();
    // With rise counted, more goes down.
    const share = (riseCounts: number) =>
      valueOf(pushPlan([clearing], [low!, high!], falling, { ...usualPushing, riseCounts }))
        .filledCubicMeters[0]!;
    expect(share(20)).toBeGreaterThan(share(0) + 20);
    const near = valueOf(pushPlan([clearing], [low!], falling)).meanMeters!;
    const far = valueOf(pushPlan([clearing], [{ ...low!, reachMeters: 0 }], falling)).meanMeters!;
    expect(far - near).toBeGreaterThan(4.9);
    expect(far - near).toBeLessThanOrEqual(5);
  });

  test('volume in is what is placed and what is left over, to 1e-6, whatever is drawn', () => {
    const part = fc.record({ x: number(-50, 350), y: number(-50, 350), room: number(0, 400) });
    fc.assert(
      fc.property(
        fc.array(part, { maxLength: 15 }),
        number(0, 3000),
        number(5, 250),
        (parts, cubicMeters, width) => {
          const sinks = parts.map(({ x, y, room }, i): DebrisSink => {
            return { id: `${i % 3}`, at: [x, y], cubicMeters: room, reachMeters: 4 };
          });
          const area = { rings: [rectangle(0, 0, width, 120)], cubicMeters };
          const plan = valueOf(
            pushPlan([area], sinks, level, { ...usualPushing, mostPatches: 40 }),
          );
          const { placedCubicMeters: placed, leftOverCubicMeters: left } = plan;
          expect(Math.abs(plan.totalCubicMeters - cubicMeters)).toBeLessThan(1e-6);
          expect(Math.abs(placed + left - cubicMeters)).toBeLessThan(1e-6);
          expect(Math.abs(sum(plan.filledCubicMeters) - placed)).toBeLessThan(1e-6);
          expect(Math.abs(sum(plan.arrows.map((a) => a.cubicMeters)) - placed)).toBeLessThan(1e-6);
          const room = sum(sinks.map((sink) => sink.cubicMeters));
          expect(Math.abs(placed - Math.min(room, cubicMeters))).toBeLessThan(1e-3);
          plan.filledCubicMeters.forEach((filled, j) => {
            expect(filled).toBeLessThan(sinks[j]!.cubicMeters + 1e-4);
          });
        },
      ),
      { ...runs, numRuns: 60 },
    );
  });

  test('what cannot be is refused in plain words', () => {
    const of = (...given: Parameters<typeof pushPlan>) => problemOf(pushPlan(...given));
    const [sink] = berm(100, 1);
    expect(of([{ rings: [], cubicMeters: 5 }], [sink!], level)).toBe('clearing-without-ground');
    expect(of([{ rings: [[[0, 0], [9, 9], [3, 3]]], cubicMeters: 5 }], [sink!], level)).toBe('clearing-without-ground'); // prettier-ignore
    expect(of([{ rings: [[[0, 0], [NaN, 9], [3, 3]]], cubicMeters: 5 }], [sink!], level)).toBe('clearing-without-ground'); // prettier-ignore
    for (const value of [NaN, -1, Infinity]) {
      expect(of([{ ...clearing, cubicMeters: value }], [sink!], level)).toBe('number-out-of-range');
      expect(of([clearing], [{ ...sink!, cubicMeters: value }], level)).toBe('number-out-of-range');
      expect(of([clearing], [{ ...sink!, reachMeters: value }], level)).toBe('number-out-of-range');
    }
    expect(of([clearing], [{ ...sink!, at: [NaN, 0] }], level)).toBe('number-out-of-range');
    expect(of([clearing], [sink!], level, { ...usualPushing, riseCounts: NaN })).toBe('number-out-of-range'); // prettier-ignore
    expect(of([clearing], [sink!], level, { ...usualPushing, mostPatches: 0 })).toBe('number-out-of-range'); // prettier-ignore
    expect(of([clearing], [sink!], level, { ...usualPushing, farthestMeters: NaN })).toBe('number-out-of-range'); // prettier-ignore
    expect(of([clearing], berm(1000, 601), level)).toBe('push-too-many-parts');
  });
});
