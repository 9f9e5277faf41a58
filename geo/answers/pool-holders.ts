import { positionsOf } from '../plan/construct/map-positions.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { fillBasins, findBasins } from '../water/fill-basins.ts';
import { usualAirPools } from '../wind/air-pools.ts';
import type { Work } from '../work.ts';
import type { ColdAirWindow } from './cold-air.ts';
import type { GroundInUse } from './definition.ts';
import { inFrame } from './ground-inputs.ts';
import { isRaised, planOnGround, reachMeters } from './plan-on-ground.ts';

/** Beside a pool: its shore lies at the foot of what holds it. */
const BESIDE_CELLS = 3;

/**
 * By pool, what holds the air in it: each berm, heap or fill beside it without which the air would
 * stand a foot lower, or less than a foot deep. By trying: the ground is filled again without each.
 * `boxes` as `spotBoxes` gives them. A pool of the ground itself is held by nothing.
 */
export function* poolHolders(
  { surveyed, carries, pools }: ColdAirWindow,
  reached: ReadonlySet<number>,
  boxes: Int32Array,
): Work<ReadonlyMap<number, readonly string[]>> {
  const held = new Map<number, string[]>();
  for (const one of carries) {
    if (!isRaised(one)) continue;
    const beside = [...reached].filter((pool) => isBeside(surveyed, one, boxes, pool));
    if (beside.length === 0) continue;
    const data = planOnGround(surveyed, carries.filter(({ id }) => id !== one.id)); // prettier-ignore
    const without = { ...surveyed.grid, data };
    const filled = yield* fillBasins(without, yield* findBasins(without));
    for (const pool of beside) {
      const { deepestCell, spillElevationMeters } = pools.pools[pool]!;
      const level = filled[deepestCell]!;
      const least = usualAirPools.leastDepthMeters;
      const isLower = spillElevationMeters - level >= least;
      if (!isLower && level - data[deepestCell]! >= least) continue;
      held.set(pool, [...(held.get(pool) ?? []), one.id]);
    }
  }
  return held;
}

function isBeside(
  { grid, frame }: GroundInUse,
  one: PlanFeature,
  boxes: Int32Array,
  pool: number,
): boolean {
  const places = positionsOf(one.geometry).flatMap((position) => {
    const at = inFrame(frame, position);
    return at ? [at] : [];
  });
  const out = reachMeters(one);
  const columns = places.map(([x]) => (x - grid.west) / grid.cellWidth);
  const rows = places.map(([, y]) => (grid.north - y) / grid.cellHeight);
  const [wide, high] = [out / grid.cellWidth + BESIDE_CELLS, out / grid.cellHeight + BESIDE_CELLS];
  const [left, top, right, bottom] = boxes.subarray(4 * pool, 4 * pool + 4);
  return (
    Math.max(...columns) + wide >= left! &&
    Math.min(...columns) - wide <= right! + 1 &&
    Math.max(...rows) + high >= top! &&
    Math.min(...rows) - high <= bottom! + 1
  );
}
