import { describe, expect, it } from 'vitest';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { directionVerdicts } from '../../geo/wind/direction-verdicts.ts';
import { usualDriftRule } from '../../geo/wind/drift-rule.ts';
import { scentDrift, type ScentDrift } from '../../geo/wind/scent-drift.ts';
import {
  arcWithin,
  clearanceDegrees,
  seatReach,
  type ProtectedGround,
} from '../../geo/wind/seat-reach.ts';
import { windVerdict } from '../../geo/wind/wind-verdict.ts';
import { demoProtected, demoSeats } from '../demo-stands.ts';
import { seeded } from '../seeded.ts';

const rule = usualDriftRule;
const windOf = (fromDegrees: number, speedMetersPerSecond = 4) =>
  scentDrift(
    { fromDegrees, speedMetersPerSecond, stability: 'D', slopeFlow: null, isSheltered: false },
    rule,
  );
const allRound: ScentDrift = {
  ...windOf(0),
  axisDegrees: null,
  halfAngleDegrees: 180,
  doubts: ['calm'],
};
const judge = (seat: XY, grounds: readonly ProtectedGround[], drift: ScentDrift) =>
  windVerdict(seatReach(seat, grounds, rule.rangeMeters), drift, rule);

describe("the demo's stands, trade notes section 6.4: 300 yd, 30 degrees, wind from the 8 points", () => {
  const points = ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'];
  it.each([
    ['A1', 'N W NW', 'S', 'NE E SE SW'],
    ['A2', 'W NW', 'N E', 'NE SE S SW'],
    ['B1', 'S SW W NW', '', 'N NE E SE'],
    ['B1 moved', 'SW W', 'S NW', 'N NE E SE'],
  ])('%s works on %s, marginal on %s, does not on %s', (id, works, marginal, not) => {
    const seat = demoSeats.find((one) => one.id === id)!;
    const on = (verdict: string) =>
      points.filter((_, i) => judge(seat.at, demoProtected, windOf(45 * i)).verdict === verdict);
    expect(on('works').join(' ')).toBe(works);
    expect(on('marginal').join(' ')).toBe(marginal);
    expect(on('does-not').join(' ')).toBe(not);
  });

  it('a table of 16 directions holds the 8 points and what lies between', () => {
    const [a1] = demoSeats;
    const reach = seatReach([a1!.at[0], a1!.at[1]], demoProtected, rule.rangeMeters);
    const table = directionVerdicts(reach, rule).map(({ verdict }) => verdict);
    expect(table.filter((_, i) => i % 2 === 0)).toEqual([
      'works',
      'does-not',
      'does-not',
      'does-not',
      'marginal',
      'does-not',
      'works',
      'works',
    ]);
    table.forEach((verdict, i) =>
      expect(verdict).toBe(judge([...a1!.at], demoProtected, windOf(22.5 * i)).verdict),
    );
  });

  it('plot B lies down the SW wind from A1; bedding H2 down the NE wind from A2', () => {
    const a1 = judge(demoSeats[0]!.at, demoProtected, windOf(225));
    expect(a1.reached.map(({ id, isInCore }) => [id, isInCore])).toEqual([['B', true]]);
    const a2 = judge(demoSeats[1]!.at, demoProtected, windOf(45));
    expect(a2.reached.find(({ id }) => id === 'H2')).toMatchObject({ isInCore: true });
  });

  it('on a calm evening air drains to 143: A1 and B1 usable with doubts, A2 works with doubts', () => {
    const slopeFlow = { kind: 'down', towardDegrees: 143, speedMetersPerSecond: 0.894 } as const;
    const drift = scentDrift(
      { fromDegrees: null, speedMetersPerSecond: 0, stability: 'F', slopeFlow, isSheltered: false },
      rule,
    );
    const verdicts = demoSeats.map(({ at }) => judge(at, demoProtected, drift));
    expect(verdicts.map(({ verdict }) => verdict).slice(0, 3)).toEqual([
      'works',
      'works',
      'marginal',
    ]);
    for (const { doubts } of verdicts) expect(doubts).toContain('slope-air');
  });
});

describe('sector edges, exact', () => {
  const post = (bearing: number, meters = 100): ProtectedGround => {
    const angle = (bearing * Math.PI) / 180;
    const at: XY = [meters * Math.sin(angle), meters * Math.cos(angle)];
    return { id: 'post', shape: { kind: 'point', paths: [[at]] } };
  };
  it.each([
    [0, 'does-not'],
    [15, 'does-not'],
    [-15, 'does-not'],
    [15.000001, 'marginal'],
    [30, 'marginal'],
    [-30, 'marginal'],
    [30.000001, 'works'],
    [180, 'works'],
  ])('a post %f degrees off the axis: %s', (off, verdict) => {
    for (const axis of [0, 15, 45, 90, 143, 344, 359.9]) {
      expect(judge([0, 0], [post(axis + off)], windOf(axis + 180)).verdict).toBe(verdict);
    }
  });

  it('range: the yard at 300 counts, the one past it does not', () => {
    expect(judge([0, 0], [post(0, 300 * 0.9144)], windOf(180)).verdict).toBe('does-not');
    expect(judge([0, 0], [post(0, 300 * 0.9144 + 1e-6)], windOf(180)).verdict).toBe('works');
  });

  it('by hand: a fence 100 m north, 200 m long, seen from its middle', () => {
    const fence: ProtectedGround = {
      id: 'fence',
      shape: {
        kind: 'line',
        paths: [
          [
            [-100, 100],
            [100, 100],
          ],
        ],
      },
    };
    const north = judge([0, 0], [fence], windOf(180)).reached[0]!;
    expect(north).toEqual({ id: 'fence', meters: 100, share: 1, isInCore: true });
    // Axis 60: the fence ends at 45, half the sector from 30 to 90 is 15 of 60 degrees.
    const east = judge([0, 0], [fence], windOf(240)).reached[0]!;
    expect(east.share).toBeCloseTo(0.25, 9);
    // Nearest where the sector's side at 30 degrees meets it.
    expect(east.meters).toBeCloseTo(100 / Math.cos(Math.PI / 6), 9);
    expect(judge([0, 0], [fence], allRound).reached[0]!.share).toBeCloseTo(0.25, 9);
  });

  it('a seat in protected ground, on its edge, and air that spreads all round', () => {
    const plot: ProtectedGround = {
      id: 'plot',
      shape: {
        kind: 'area',
        paths: [
          [
            [-10, -10],
            [10, -10],
            [10, 10],
            [-10, 10],
          ],
        ],
      },
    };
    for (let from = 0; from < 360; from += 45) {
      const inside = judge([0, 0], [plot], windOf(from));
      expect([inside.verdict, inside.reached[0]!.meters]).toEqual(['does-not', 0]);
    }
    expect(judge([10, 0], [plot], windOf(90)).verdict).toBe('does-not');
    expect(judge([500, 0], [plot], allRound).verdict).toBe('works');
    expect(judge([100, 0], [plot], allRound)).toMatchObject({
      verdict: 'marginal',
      doubts: ['calm'],
    });
  });
});

/** A few star-shaped plots, lines and points about the seat. */
function grounds(random: () => number, count: number): ProtectedGround[] {
  return Array.from({ length: count }, (_, k) => {
    const [x, y] = [600 * (random() - 0.5), 600 * (random() - 0.5)];
    const corner = (i: number): XY => {
      const reach = 5 + 80 * random();
      return [x + reach * Math.sin(i * 0.9), y + reach * Math.cos(i * 0.9)];
    };
    const kind = k % 4 === 0 ? 'line' : k % 4 === 1 ? 'point' : 'area';
    const corners = kind === 'point' ? 1 : kind === 'line' ? 3 : 7;
    return {
      id: `g${k}`,
      shape: { kind, paths: [Array.from({ length: corners }, (_, i) => corner(i))] },
    };
  });
}

const turned = ([x, y]: XY): XY => [y, -x];
const turnedGround = ({ id, shape }: ProtectedGround): ProtectedGround => ({
  id,
  shape: { ...shape, paths: shape.paths.map((path) => path.map(turned)) },
});

describe('seeded places', () => {
  it('clearance, share and distance against a fine walk along every outline and ray', () => {
    const random = seeded(41);
    let compared = 0;
    for (let n = 0; n < 60; n++) {
      // A post has no width that rays could meet.
      const any = grounds(random, 1 + Math.floor(5 * random()));
      const all = any.filter(({ shape }) => shape.kind !== 'point');
      const axis = 360 * random();
      const reach = seatReach([0, 0], all, rule.rangeMeters);
      const hit = rayHits(all, rule.rangeMeters);
      let least = Infinity;
      let inSector = 0;
      for (let k = 0; k < 3600; k++) {
        if (!hit[k]) continue;
        const off = Math.abs(((((k / 10 - axis) % 360) + 540) % 360) - 180);
        least = Math.min(least, off);
        if (off <= 30) inSector++;
      }
      const ours = clearanceDegrees(reach.arcs, axis);
      const slivers = reach.arcs.filter(({ width }) => width < 0.11).length;
      if (slivers === 0) {
        compared++;
        if (least === Infinity) expect(ours).toBe(Infinity);
        else expect(Math.abs(ours - least)).toBeLessThan(0.11);
      }
      expect(Math.abs(arcWithin(reach.arcs, axis, 30) - inSector / 10)).toBeLessThan(1);
    }
    expect(compared).toBeGreaterThan(50);
  });

  it('turning the whole world by a quarter turns every answer', () => {
    const random = seeded(7);
    for (let n = 0; n < 300; n++) {
      const all = grounds(random, 1 + Math.floor(6 * random()));
      const from = 360 * random();
      const here = judge([3, 5], all, windOf(from, 0.3 + 5 * random()));
      const there = judge(turned([3, 5]), all.map(turnedGround), windOf(from + 90));
      const again = judge([3, 5], all, windOf(from));
      expect(there.verdict).toBe(again.verdict);
      expect(there.reached.map(({ id }) => id)).toEqual(again.reached.map(({ id }) => id));
      there.reached.forEach(({ meters, share }, i) => {
        expect(meters).toBeCloseTo(again.reached[i]!.meters, 6);
        expect(share).toBeCloseTo(again.reached[i]!.share, 6);
      });
      expect(here.reached.length).toBeGreaterThanOrEqual(again.reached.length);
    }
  });

  it('more protected ground never makes a wind better', () => {
    const random = seeded(9);
    const rank = { works: 2, marginal: 1, 'does-not': 0 };
    for (let n = 0; n < 300; n++) {
      const all = grounds(random, 6);
      const drift = n % 10 === 0 ? allRound : windOf(360 * random(), 0.3 + 5 * random());
      let before = 3;
      for (let k = 0; k <= all.length; k++) {
        const now = rank[judge([0, 0], all.slice(0, k), drift).verdict];
        expect(now).toBeLessThanOrEqual(before);
        before = now;
      }
    }
  });
});

/** Which of 3,600 rays meet any ground within range, by cutting each ray with each edge. */
function rayHits(all: readonly ProtectedGround[], range: number): boolean[] {
  return Array.from({ length: 3600 }, (_, k) => {
    const angle = (k * Math.PI) / 1800;
    const [ex, ey] = [Math.sin(angle), Math.cos(angle)];
    return all.some(({ shape }) => {
      const crossings = shape.paths.flatMap((path) =>
        path.flatMap((b, i) => {
          if (shape.kind !== 'area' && i === 0) return [];
          const a = path[(i + path.length - 1) % path.length]!;
          const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
          const det = dx * ey - dy * ex;
          if (det === 0) return [];
          const t = (a[1] * ex - a[0] * ey) / det;
          const far = (dx * a[1] - dy * a[0]) / det;
          return t >= 0 && t < 1 && far >= 0 ? [far] : [];
        }),
      );
      const inside = shape.kind === 'area' && crossings.length % 2 === 1;
      return inside || crossings.some((far) => far <= range);
    });
  });
}
