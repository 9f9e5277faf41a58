import type { XY } from '../plan/overlay/arrangement.ts';
import { partOf, type Work } from '../work.ts';
import { laneCost } from './lane-cost.ts';
import type { LaneGround } from './lane-ground.ts';
import { cellUnder, isOpenAt } from './lane-walk.ts';
import { leastCost } from './least-cost.ts';

/**
 * How little a walk in gives away, by cell of a lane ground: seconds of the quickest walk from any
 * access point over the weighted seconds of its best lane: 1 where that walk is neither smelt nor
 * seen, wet nor steep, a half where it costs twice as much, 0 where no way leads. `exposure` is scent
 * by cell, as for `laneCost`. Row-major, row 0 north. Throws RangeError without an access point.
 * Example: level, a weight of scent of 20, half exposed all the way: 1/11.
 */
export function* laneQuality(
  ground: LaneGround,
  exposure: Float32Array,
  accessPoints: readonly XY[],
): Work<Float32Array> {
  if (accessPoints.length === 0) throw new RangeError('no access point');
  const cells = ground.width * ground.height;
  const bare = { ...ground, weight: new Float32Array(cells).fill(1) };
  const inTime = cheapestOf(bare, new Float32Array(cells), accessPoints);
  const quickest = yield* partOf(inTime, 0, 0.5);
  const best = yield* partOf(cheapestOf(ground, exposure, accessPoints), 0.5, 1);
  // At the access point itself there is no walk to give anything away.
  return best.map((cost, i) => (cost === Infinity ? 0 : cost > 0 ? quickest[i]! / cost : 1));
}

function* cheapestOf(
  ground: LaneGround,
  exposure: Float32Array,
  accessPoints: readonly XY[],
): Work<Float32Array> {
  const surface = laneCost(ground, exposure);
  const least = new Float32Array(ground.width * ground.height).fill(Infinity);
  for (const [k, place] of accessPoints.entries()) {
    if (!isOpenAt(ground, place)) continue;
    const work = leastCost(surface, cellUnder(ground, place));
    const { cost } = yield* partOf(work, k / accessPoints.length, (k + 1) / accessPoints.length);
    for (let i = 0; i < least.length; i++) if (cost[i]! < least[i]!) least[i] = cost[i]!;
  }
  return least;
}
