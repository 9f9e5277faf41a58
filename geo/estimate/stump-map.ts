import { badNumber } from '../debris/check-numbers.ts';
import { scaleLowHigh, type LowHigh } from '../debris/low-high.ts';
import { checkTally } from '../debris/tally-rows.ts';
import type { TallyRow } from '../debris/timber-mass.ts';
import { ok, type Result } from '../result.ts';
import { bladingHours } from './blading-hours.ts';
import type { Dozer } from './dirt-minutes.ts';
import { pushHours } from './push-hours.ts';
import { dirtVolumes } from './swell.ts';
import { groundDiameter } from './tree-count.ts';

export interface StumpBlock {
  readonly rows: readonly TallyRow[];
  readonly areaSquareMeters: number;
  /** Only pulled stumps leave holes; ground and left ones stay in the ground. */
  readonly stumps: 'pulled' | 'ground' | 'left';
}

/** Stumps by their diameter at the ground, metres. */
export interface StumpClass {
  readonly fromMeters: number;
  /** Infinity for the last. */
  readonly toMeters: number;
  readonly stumps: number;
  /** Of those pulled. */
  readonly holesCubicMeters: LowHigh;
}

export interface StumpMap {
  readonly classes: readonly StumpClass[];
  readonly stumps: number;
  readonly holes: number;
  /** Empty holes. */
  readonly holesCubicMeters: LowHigh;
  /** Loose dirt that fills them, once it is compacted. */
  readonly fillCubicMeters: LowHigh;
  /** To fill them and blade the pocked ground. */
  readonly extraHours: LowHigh;
  /** One more time over it next year, when the holes have settled. */
  readonly settlementHours: LowHigh;
}

/** 6 in, 1, 2 and 3 ft. */
const classEnds = [0.1524, 0.3048, 0.6096, 0.9144, Infinity] as const;

/** Hole over stump, and depth over radius: so that 6 to 11 in trees make the holes of trade §6.7 (ours). */
const RADIUS: LowHigh = { low: 3.5, likely: 4, high: 4.5 };
const DEPTH: LowHigh = { low: 0.15, likely: 0.2, high: 0.25 };
/** Dirt beside the hole is pushed back so far, metres; passes over pocked ground, and a year after. */
const PUSH = 15;
const PASSES = 4;
const SETTLED_PASSES = 2;

/** Dirt by its own weight, as it is where it was thrown up. */
const dirt = { kilogramsPerCubicMeter: 1370, drift: { low: 1, likely: 1, high: 1 } };

/**
 * Volume of the hole that a pulled stump leaves, m³: a cap of a ball, πh(3a² + h²)/6, whose rim is
 * 4 times as wide as the stump and which is a fifth of its radius deep. No agency's figure was
 * found (handbook §3): the two ratios are ours. Throws RangeError for a diameter not above 0.
 * Example: a stump of 0.37 m leaves a hole 2.96 m across and 0.30 m deep: 1.03 m³ (0.5 to 1.9).
 */
export function holeVolume(stumpMeters: number): LowHigh {
  if (!(stumpMeters > 0 && stumpMeters < 10)) throw new RangeError(`a stump of ${stumpMeters} m`);
  const of = (which: keyof LowHigh) => {
    const a = RADIUS[which] * stumpMeters;
    const h = DEPTH[which] * a;
    return (Math.PI * h * (3 * a * a + h * h)) / 6;
  };
  return { low: of('low'), likely: of('likely'), high: of('high') };
}

/**
 * Stumps of a clearing by class, the holes that pulled ones leave, the dirt that fills them (loam,
 * compacted) and what that takes: pushing it back, blading the pocked ground, and a lighter pass
 * next year. Stumps of sold trees are stumps too. Problems: as `checkTally`, values out of bounds.
 * Example: 0.69 ha with 187 stumps of 0.37 m, pulled: 193 m³ of holes.
 */
export function stumpMap(blocks: readonly StumpBlock[], dozer: Dozer): Result<StumpMap> {
  const bad =
    badNumber({ 'number of blocks': blocks.length }, 1, Infinity) ??
    badNumber({ 'width of the blade': dozer.bladeWidthMeters }, 0, 100, true);
  if (bad) return bad;
  const classes = classEnds.map((toMeters, i) => {
    const fromMeters = i === 0 ? 0 : classEnds[i - 1]!;
    return { fromMeters, toMeters, stumps: 0, holesCubicMeters: nothing };
  });
  let [stumps, holes, pocked] = [0, 0, 0];
  for (const block of blocks) {
    const checked = checkTally(block.rows);
    if (!checked.ok) return checked;
    const wrong = badNumber({ 'area of the block': block.areaSquareMeters }, 0, 1e9, true);
    if (wrong) return wrong;
    const isPulled = block.stumps === 'pulled';
    if (isPulled) pocked += block.areaSquareMeters;
    for (const { diameterMeters, stemsPerHectare } of block.rows) {
      const count = (stemsPerHectare * block.areaSquareMeters) / 10_000;
      const meters = groundDiameter(diameterMeters);
      const one = classes[classEnds.findIndex((end) => meters < end)]!;
      one.stumps += count;
      stumps += count;
      if (!isPulled) continue;
      holes += count;
      one.holesCubicMeters = add(one.holesCubicMeters, scaleLowHigh(holeVolume(meters), count));
    }
  }
  const holesCubicMeters = classes.reduce((sum, one) => add(sum, one.holesCubicMeters), nothing);
  const { loose, compacted } = dirtVolumes.loam;
  const fillCubicMeters = scaleLowHigh(holesCubicMeters, loose / compacted);
  const { likely } = fillCubicMeters;
  const load = { cubicMeters: likely, meters: PUSH, riseMeters: 0 };
  const pushed = pushHours([load], dozer, dirt, likely > 0 ? scaleLowHigh(fillCubicMeters, 1 / likely) : undefined); // prettier-ignore
  if (!pushed.ok) return pushed;
  const area = { low: pocked, likely: pocked, high: pocked };
  return ok({
    classes: classes.filter((one) => one.stumps > 0),
    stumps,
    holes,
    holesCubicMeters,
    fillCubicMeters,
    extraHours: add(pushed.value.hours, bladingHours(area, PASSES, dozer)),
    settlementHours: bladingHours(area, SETTLED_PASSES, dozer),
  });
}

const nothing: LowHigh = { low: 0, likely: 0, high: 0 };

function add(a: LowHigh, b: LowHigh): LowHigh {
  return { low: a.low + b.low, likely: a.likely + b.likely, high: a.high + b.high };
}
