import type { XY } from '../plan/overlay/arrangement.ts';
import { ok, problem, type Result } from '../result.ts';
import { badNumber } from './check-numbers.ts';
import { debrisPatches, type DebrisArea, type DebrisPatch } from './debris-patches.ts';
import { cheapestTransport, mostPairs } from './transport.ts';

/** A part of a heap or a berm with room, frame metres. */
export interface DebrisSink {
  /** The heap or berm that it is part of. */
  readonly id: string;
  readonly at: XY;
  /** Room. */
  readonly cubicMeters: number;
  /** How far its foot lies from its middle: pushing ends there. */
  readonly reachMeters: number;
}

export interface PushFlow {
  readonly patch: number;
  readonly sink: number;
  readonly cubicMeters: number;
  readonly meters: number;
  /** Ground under the sink over ground under the patch; null where either is unknown. */
  readonly riseMeters: number | null;
}

/** What comes to a part of a heap or berm from one side of it, for the map. */
export interface PushArrow {
  readonly sink: number;
  readonly from: XY;
  readonly to: XY;
  readonly cubicMeters: number;
}

export interface PushPlan {
  readonly patches: readonly DebrisPatch[];
  readonly flows: readonly PushFlow[];
  /** What each sink gets, in their order. */
  readonly filledCubicMeters: readonly number[];
  readonly totalCubicMeters: number;
  readonly placedCubicMeters: number;
  readonly leftOverCubicMeters: number;
  /** By volume; null where nothing is pushed. */
  readonly meanMeters: number | null;
  readonly greatestMeters: number | null;
  /** Of the volume whose ground is known at both ends, pushed up more than 1 in 100; null: none is. */
  readonly uphillShare: number | null;
  readonly arrows: readonly PushArrow[];
}

export interface PushRules {
  /** Level metres that a metre of rise counts as when the nearest is looked for; 0: distance alone. */
  readonly riseCounts: number;
  readonly mostPatches: number;
  /** Nothing is pushed farther, metres; Infinity for no limit. */
  readonly farthestMeters: number;
}

/**
 * A metre up is worth two along: the slope of the grade factor, 2 % for 1 % (ours, handbook §4.1).
 * 200 patches of a 5-acre clearing are 10 m wide.
 */
export const usualPushing: PushRules = {
  riseCounts: 2,
  mostPatches: 200,
  farthestMeters: Infinity,
};

/** Steeper than this counts as uphill. */
const LEVEL = 0.01;

/**
 * Where debris and strippings of a clearing go: each patch of ground to the nearest part of a heap
 * or berm with room left, all together at the least volume times distance (rise counted in). What
 * there is no room for within reach is left over, from the patches that lie worst.
 * @param groundAt height of the ground in frame metres; NaN where unknown
 * Problems as `debrisPatches`; values out of bounds; `push-too-many-parts` for over 600 sinks.
 * Example: 100 × 50 m with 500 m³, one berm along a long side with room for 600: 25 m on average.
 */
export function pushPlan(
  areas: readonly DebrisArea[],
  sinks: readonly DebrisSink[],
  groundAt: (x: number, y: number) => number,
  rules: PushRules = usualPushing,
): Result<PushPlan> {
  const bad = checkSinks(sinks) ?? badNumber({ 'worth of a metre of rise': rules.riseCounts }, 0, 1000) ?? badNumber({ 'longest push': Math.min(rules.farthestMeters, 1e9) }, 0, 1e9); // prettier-ignore
  if (bad) return bad;
  const most = Math.min(rules.mostPatches, Math.floor(mostPairs / Math.max(1, sinks.length)));
  const cut = debrisPatches(areas, most);
  if (!cut.ok) return cut;
  const patches = cut.value;
  const under = patches.map(({ at }) => groundAt(at[0], at[1]));
  const foot = sinks.map(({ at }) => groundAt(at[0], at[1]));
  const metersOf = ({ at: [x, y] }: DebrisPatch, { at, reachMeters }: DebrisSink) =>
    Math.max(0, Math.hypot(x - at[0], y - at[1]) - reachMeters);
  const costs = patches.map((patch, i) =>
    sinks.map((sink, j) => {
      const meters = metersOf(patch, sink);
      if (meters > rules.farthestMeters) return Infinity;
      const rise = foot[j]! - under[i]!;
      return meters + (rise > 0 ? rise * rules.riseCounts : 0);
    }),
  );
  const supplies = patches.map(({ cubicMeters }) => cubicMeters);
  const rooms = sinks.map(({ cubicMeters }) => cubicMeters);
  const flows = cheapestTransport(supplies, rooms, costs).map(({ source, sink, amount }): PushFlow => {
    const rise = foot[sink]! - under[source]!;
    return {
      patch: source,
      sink,
      cubicMeters: amount,
      meters: metersOf(patches[source]!, sinks[sink]!),
      riseMeters: Number.isNaN(rise) ? null : rise,
    };
  }); // prettier-ignore
  const totalCubicMeters = supplies.reduce((sum, amount) => sum + amount, 0);
  return ok({
    patches,
    flows,
    ...summary(flows, sinks.length, totalCubicMeters),
    arrows: arrowsOf(flows, patches, sinks),
  });
}

function checkSinks(sinks: readonly DebrisSink[]): Result<never> | null {
  if (sinks.length > mostPairs / 20) {
    return problem(
      'push-too-many-parts',
      `Debris would go to ${sinks.length} parts of heaps and berms.`,
      'Take longer parts, or fewer heaps.',
    );
  }
  for (const { at, cubicMeters, reachMeters } of sinks) {
    const bad =
      badNumber({ 'room in a heap or berm': cubicMeters, 'reach of a heap or berm': reachMeters }, 0, 1e9) ??
      badNumber({ 'place of a heap or berm': at[0] + at[1] }, -Infinity, Infinity); // prettier-ignore
    if (bad) return bad;
  }
  return null;
}

function summary(flows: readonly PushFlow[], sinkCount: number, total: number) {
  const filled = Array.from({ length: sinkCount }, () => 0);
  let [placed, work, greatest, known, uphill] = [0, 0, 0, 0, 0];
  for (const { sink, cubicMeters, meters, riseMeters } of flows) {
    filled[sink]! += cubicMeters;
    placed += cubicMeters;
    work += cubicMeters * meters;
    greatest = Math.max(greatest, meters);
    if (riseMeters === null) continue;
    known += cubicMeters;
    if (riseMeters > LEVEL * meters) uphill += cubicMeters;
  }
  const left = total - placed;
  const isAll = left < 1e-9 * total;
  return {
    filledCubicMeters: filled,
    totalCubicMeters: total,
    placedCubicMeters: isAll ? total : placed,
    leftOverCubicMeters: isAll ? 0 : left,
    meanMeters: placed > 0 ? work / placed : null,
    greatestMeters: placed > 0 ? greatest : null,
    uphillShare: known > 0 ? uphill / known : null,
  };
}

const SIDES = 8;

/** One arrow for each sink and each of eight sides that debris comes to it from, largest first. */
function arrowsOf(
  flows: readonly PushFlow[],
  patches: readonly DebrisPatch[],
  sinks: readonly DebrisSink[],
): PushArrow[] {
  const sums = new Map<number, { volume: number; x: number; y: number }>();
  for (const { patch, sink, cubicMeters } of flows) {
    const [[x, y], [sx, sy]] = [patches[patch]!.at, sinks[sink]!.at];
    const turn = Math.atan2(y - sy, x - sx) / (2 * Math.PI) + 1;
    const key = sink * SIDES + (Math.round(turn * SIDES) % SIDES);
    const sum = sums.get(key) ?? { volume: 0, x: 0, y: 0 };
    sum.volume += cubicMeters;
    sum.x += cubicMeters * x;
    sum.y += cubicMeters * y;
    sums.set(key, sum);
  }
  const arrows = [...sums].map(([key, { volume, x, y }]): PushArrow => {
    const sink = Math.floor(key / SIDES);
    return { sink, from: [x / volume, y / volume], to: sinks[sink]!.at, cubicMeters: volume };
  });
  return arrows.sort((a, b) => b.cubicMeters - a.cubicMeters || a.sink - b.sink);
}
