import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fewestGaps, type Stretch } from '../../geo/debris/fewest-gaps.ts';
import { gapStations, type GapRules, type RequiredGap } from '../../geo/debris/gap-stations.ts';
import { problemOf, valueOf } from '../result-value.ts';

const foot = 0.3048;
const runs = { seed: 20_261_202, numRuns: 400 };

/**
 * Slow oracle: every choice of k whole-number starts, k from 0 up. Whole numbers in make every
 * interval of places end at whole numbers, so that where any choice exists a whole one does.
 */
function fewestByTrying([from, to]: Stretch, rules: GapRules): number | null {
  const { widthMeters: width, spacingMeters, leastPartMeters, barred } = rules;
  const fits = (solid: number) => solid <= spacingMeters && solid >= leastPartMeters;
  const isFree = (s: number) => barred.every(([a, b]) => s + width <= a || s >= b);
  if (to - from <= spacingMeters) return 0;
  const place = (after: number, left: number): boolean => {
    if (left === 0) return fits(to - after);
    for (let s = after; s + width <= to; s++) {
      if (fits(s - after) && isFree(s) && place(s + width, left - 1)) return true;
    }
    return false;
  };
  for (let k = 1; k * width <= to - from; k++) if (place(from, k)) return k;
  return null;
}

const int = (min: number, max: number) => fc.integer({ min, max });
const zone = fc.tuple(int(0, 26), int(1, 7)).map(([a, n]): Stretch => [a, a + n]);

describe('gaps in a berm', () => {
  test('are as few as trying every place finds', () => {
    let found = 0;
    fc.assert(
      fc.property(
        int(4, 26),
        int(1, 4),
        int(2, 9),
        int(0, 3),
        fc.array(zone, { maxLength: 3 }),
        (length, widthMeters, spacingMeters, leastPartMeters, barred) => {
          const rules = { widthMeters, spacingMeters, leastPartMeters, barred };
          const gaps = fewestGaps([0, length], rules);
          expect(gaps?.length ?? null).toBe(fewestByTrying([0, length], rules));
          if (!gaps) return;
          found++;
          holds(gaps, length, rules);
        },
      ),
      runs,
    );
    expect(found).toBeGreaterThan(100);
  });

  test('hold every rule beside gaps that must be, and come out the same again', () => {
    const must = fc.record<RequiredGap>({
      stationMeters: fc.double({ min: 0, max: 200, noNaN: true }),
      widthMeters: fc.double({ min: 1, max: 9, noNaN: true }),
      reason: fc.constantFrom('water', 'corridor', 'lane'),
    });
    fc.assert(
      fc.property(
        fc.array(must, { maxLength: 5 }),
        int(12, 60),
        int(0, 10),
        (required, spacingMeters, leastPartMeters) => {
          // prettier-ignore
          const rules = { widthMeters: 4, spacingMeters, leastPartMeters, barred: [] };
          const plan = gapStations(200, required, rules);
          const { gaps, parts } = valueOf(plan);
          for (const gap of required) {
            const around = gaps.find(
              ({ stationMeters, widthMeters }) =>
                Math.abs(stationMeters - gap.stationMeters) <= widthMeters / 2 + 1e-9,
            )!;
            expect(around.reasons).toContain(gap.reason);
          }
          const solid = parts.reduce((sum, [from, to]) => sum + to - from, 0);
          const open = gaps.reduce((sum, { widthMeters }) => sum + widthMeters, 0);
          expect(solid + open).toBeCloseTo(200, 6);
          for (const [from, to] of parts)
            expect(to - from).toBeLessThanOrEqual(spacingMeters + 1e-6);
          expect(gapStations(200, required.toReversed(), rules)).toEqual(plan);
        },
      ),
      runs,
    );
  });

  test('on 610 ft, 16 ft wide and at most 150 ft apart: four, evenly (by hand)', () => {
    // 5 parts share 610 − 4 × 16 = 546 ft; 4 parts would have 140.5 ft each with 3 gaps.
    const rules = { widthMeters: 16 * foot, spacingMeters: 140 * foot, leastPartMeters: 24 * foot, barred: [] }; // prettier-ignore
    const { gaps, parts } = valueOf(gapStations(610 * foot, [], rules));
    expect(gaps).toHaveLength(4);
    for (const [from, to] of parts) expect((to - from) / foot).toBeCloseTo(109.2, 6);
  });

  test('near each other become one; a gap that must be stays where none may', () => {
    const rules = { widthMeters: 4, spacingMeters: 40, leastPartMeters: 7, barred: [[25, 35]] } as const; // prettier-ignore
    const required = [
      { stationMeters: 30, widthMeters: 5, reason: 'water' },
      { stationMeters: 38, widthMeters: 3, reason: 'lane' },
    ] as const;
    const { gaps } = valueOf(gapStations(70, required, rules));
    expect(gaps).toEqual([
      { stationMeters: 33.75, widthMeters: 12.5, reasons: ['lane', 'water'], isBarred: true },
    ]);
  });

  test('what cannot be is refused in plain words', () => {
    const rules = { widthMeters: 4, spacingMeters: 40, leastPartMeters: 7, barred: [] };
    const of = (length: number, change: Partial<GapRules>, required: RequiredGap[] = []) =>
      problemOf(gapStations(length, required, { ...rules, ...change }));
    const gap = (stationMeters: number, widthMeters = 5) =>
      ({ stationMeters, widthMeters, reason: 'lane' }) as const;
    expect(of(100, { barred: [[10, 90]] })).toBe('gaps-barred');
    expect(of(20, {}, [gap(10, 30)])).toBe('berm-all-gaps');
    expect(of(20, {}, [gap(21)])).toBe('gap-off-line');
    expect(of(20, {}, [gap(NaN)])).toBe('gap-off-line');
    for (const value of [NaN, -1, 0, Infinity]) {
      expect(of(value, {})).toBe('number-out-of-range');
      expect(of(20, { widthMeters: value })).toBe('number-out-of-range');
      expect(of(20, { spacingMeters: value })).toBe('number-out-of-range');
      expect(of(20, {}, [gap(10, value)])).toBe('number-out-of-range');
    }
    expect(of(20, { spacingMeters: 1e-7 })).toBe('number-out-of-range');
    expect(of(20, { barred: [[NaN, 3]] })).toBe('number-out-of-range');
  });
});

function holds(gaps: readonly number[], length: number, rules: GapRules): void {
  const half = rules.widthMeters / 2;
  let from = 0;
  for (const middle of [...gaps, length + half]) {
    const solid = middle - half - from;
    expect(solid).toBeLessThanOrEqual(rules.spacingMeters + 1e-9);
    if (gaps.length > 0) expect(solid).toBeGreaterThanOrEqual(rules.leastPartMeters - 1e-9);
    from = middle + half;
    if (middle > length) continue;
    for (const [a, b] of rules.barred) {
      expect(from <= a + 1e-9 || middle - half >= b - 1e-9).toBe(true);
    }
  }
}
