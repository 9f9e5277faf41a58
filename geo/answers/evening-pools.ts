import { roundDegrees } from '../plan/feature.ts';
import { usualAirPools } from '../wind/air-pools.ts';
import {
  poolCells,
  pooledScent,
  ROUND_METERS,
  type PoolCells,
  type PooledGround,
  type PooledScent,
} from '../wind/pooled-scent.ts';
import type { Work } from '../work.ts';
import type { Answer, LngLatPolygon } from './answers.ts';
import { coldAirAbout, type ColdAirWindow } from './cold-air.ts';
import type { GroundInUse, SiteDefinition } from './definition.ts';
import { fingerprint } from './fingerprint.ts';
import { surveyConfidence } from './ground-inputs.ts';
import { spotBoxes, spotOutline } from './low-spot-outline.ts';
import { poolHolders } from './pool-holders.ts';
import { protectedGrounds, protectedKinds, type Seats } from './seats.ts';

/** Evening air from a stand that stands in a pool, and what holds it there. */
export interface HeldAir {
  /** From the seat to where its air comes into the pool; 0 where the seat is in it. */
  readonly meters: number;
  /** Of the ways down from about the seat, those that end in it. */
  readonly share: number;
  /** Berms, heaps and fills without which it would drain, by id; none in a hollow of the ground. */
  readonly heldBy: readonly string[];
  readonly depthMeters: number;
  readonly areaSquareMeters: number;
  /** Protected ground that lies in it. */
  readonly grounds: readonly PooledGround[];
}

export interface StandPool extends HeldAir {
  readonly outline: readonly LngLatPolygon[];
  /** The air's way into it from the seat. */
  readonly way: readonly (readonly [number, number])[];
}

export interface EveningPools {
  /** By stand; none where its air drains away. */
  readonly stands: Readonly<Record<string, readonly StandPool[]>>;
}

/** Every so many paces of a way are drawn. */
const WAY_STEP = 4;

/** Every pool that evening air from a stand runs into: made once for ground and berms, for any wind. */
export const eveningPools: SiteDefinition = {
  name: 'eveningPools',
  per: 'site',
  keep: 2,
  reads: [
    'answer:seatsOnGround',
    'answer:sightGround',
    'answer:coldAir',
    ...protectedKinds.map((kind) => `features:${kind}` as const),
    'setting:scentRangeMeters',
    'record:ground',
  ],
  *compute(inputs): Work<Answer<EveningPools> | null> {
    const seats = inputs.answer('seatsOnGround') as Seats | null;
    const windows = inputs.answer('coldAir') as readonly ColdAirWindow[];
    const ground = inputs.answer('sightGround') as GroundInUse | null;
    if (!seats || !ground || windows.length === 0) return null;
    const grounds = protectedGrounds(inputs, seats.frame);
    const { scentRangeMeters } = inputs.settings;
    const stands: Record<string, readonly StandPool[]> = {};
    const cellsOf = new Map<ColdAirWindow, PoolCells>();
    for (const { stand, at } of seats.seats) {
      const window = coldAirAbout(windows, ground, at, scentRangeMeters);
      if (!window) continue;
      let cells = cellsOf.get(window);
      if (!cells) cellsOf.set(window, (cells = poolCells(window.pools, grounds)));
      const pools = pooledScent(window.pools, cells, at, scentRangeMeters);
      const known = yield* reachedPools(window, new Set(pools.map(({ pool }) => pool)));
      if (pools.length > 0) stands[stand.id] = pools.map((one) => standPool(window, known, one));
    }
    return {
      value: { stands },
      findings: [],
      basis: {
        method: [
          'Lays what is drawn on the ground and fills it brim full, as for water: a pool {leastDepthMeters} deep and of {leastAreaSquareMeters}, or more, holds air.',
          'Follows air down from the seat and from eight places {roundMeters} round it, as far as scent is followed.',
          'A berm holds the pool where it would drain without that berm; a gap that lets water out lets air out.',
        ],
        source:
          'Depression fill as for low spots. That cold air pools as water does: common practice; depth, area and places: ours, no source.',
        inputs: { ...usualAirPools, roundMeters: ROUND_METERS, rangeMeters: scentRangeMeters },
        confidence: `Low: air spills over and mixes where water would stand. ${surveyConfidence(inputs.raster('ground'))}`,
      },
    };
  },
  seenAs: (value) => fingerprint((value as Answer<EveningPools> | null)?.value ?? null),
};

interface ReachedPool {
  readonly heldBy: readonly string[];
  readonly outline: readonly LngLatPolygon[];
}

/** What has been found of pools: a stand that is dragged asks for the same ones again. */
const foundOf = new WeakMap<ColdAirWindow, Map<number, ReachedPool>>();

function* reachedPools(
  window: ColdAirWindow,
  reached: ReadonlySet<number>,
): Work<ReadonlyMap<number, ReachedPool>> {
  const known = foundOf.get(window) ?? new Map<number, ReachedPool>();
  foundOf.set(window, known);
  const asked = new Set([...reached].filter((pool) => !known.has(pool)));
  if (asked.size === 0) return known;
  const { ground, pools: of } = window;
  const { labels, pools } = of;
  const boxes = yield* spotBoxes(labels, ground.grid.width, pools.length);
  const heldBy = yield* poolHolders(window, asked, boxes);
  for (const pool of asked) {
    const box = boxes.subarray(4 * pool, 4 * pool + 4);
    const outline = yield* spotOutline(ground, { labels, spots: pools }, pool + 1, box);
    known.set(pool, { heldBy: heldBy.get(pool) ?? [], outline });
  }
  return known;
}

function standPool(
  { ground, pools }: ColdAirWindow,
  known: ReadonlyMap<number, ReachedPool>,
  { pool, way, meters, share, grounds }: PooledScent,
): StandPool {
  const spot = pools.pools[pool]!;
  const degrees = ([x, y]: readonly [number, number]): [number, number] => {
    const [lng, lat] = ground.frame.toLngLat(x, y);
    return [roundDegrees(lng), roundDegrees(lat)];
  };
  return {
    ...{ meters, share, grounds, ...known.get(pool)! },
    depthMeters: spot.maxDepthMeters,
    areaSquareMeters: spot.areaSquareMeters,
    way: way.filter((_, i) => i % WAY_STEP === 0 || i === way.length - 1).map(degrees),
  };
}
