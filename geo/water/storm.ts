import type { Work } from '../work.ts';
import { OCEAN } from './basin-labels.ts';
import type { DepressionTree } from './depression-tree.ts';
import { StorageBuffers, type HollowStorage } from './hollow-storage.ts';
import { runoffMeters } from './runoff.ts';
import { standingWater, type StandingWater } from './storm-standing.ts';

/** A ground made ready for storms: nothing here depends on the rain. */
export interface StormGround {
  readonly z: Float32Array;
  /** Basin of each cell. */
  readonly labels: Int32Array;
  readonly tree: DepressionTree;
  readonly storage: HollowStorage;
  /** Cells that can ever be under water. */
  readonly hollowCells: Int32Array;
  readonly cellAreaSquareMeters: number;
}

/** Which kind of surface each cell has, and how many cells of each kind a basin has. */
export interface SurfaceCount {
  readonly classOf: Uint8Array;
  readonly classCount: number;
  /** By label × `classCount` + class. */
  readonly cells: Int32Array;
}

export interface Storm extends StandingWater {
  readonly rainCubicMeters: number;
  /** Shed by the ground, and what falls on standing water besides. */
  readonly runoffCubicMeters: number;
  readonly soakedCubicMeters: number;
}

/** Ponds that grow by the rain on them grow less each time: so many rounds at the most … */
const ROUNDS = 8;
/** … or until what a round adds is less than this share of all that runs off. */
const LITTLE = 1e-4;

/**
 * Where the water of a storm comes to rest: each cell sheds by the curve number of its class, and
 * rain that falls on what then stands is all runoff. Rain in metres, curve numbers by class, 30 to
 * 100. Rain is what stands, what leaves and what soaks in, to rounding.
 * Source: TR-55 ch. 2 for the runoff; Barnes, Callaghan & Wickert 2021 for its rest.
 * Throws RangeError as `runoffMeters` does.
 */
export function* stormWater(
  ground: StormGround,
  surface: SurfaceCount,
  curveNumbers: ArrayLike<number>,
  rainMeters: number,
): Work<Storm> {
  const { classCount, cells } = surface;
  const area = ground.cellAreaSquareMeters;
  const shed = Float64Array.from(curveNumbers, (number) => runoffMeters(rainMeters, number));
  const classes = classesOf(ground, surface);
  const soaked = shed.map((depth) => (rainMeters - depth) * area);
  const labels = ground.tree.leafCount + 1;
  const base = new Float64Array(labels);
  let count = 0;
  for (let label = OCEAN; label < labels; label++) {
    let sum = 0;
    for (let k = 0; k < classCount; k++) {
      const some = cells[label * classCount + k]!;
      sum += some * shed[k]!;
      count += some;
    }
    base[label] = sum * area;
  }
  const shedInAll = base.reduce((sum, part) => sum + part, 0);
  let runoff = base;
  let water = standingWater(ground.tree, ground.storage, runoff);
  let onPonds = 0;
  for (let round = 0; round < ROUNDS; round++) {
    yield { share: (round + 1) / (ROUNDS + 1), doing: 'letting the rain come to rest' };
    const extra = rainOnPonds(ground.storage, classes, soaked, water.levels);
    const total = extra.reduce((sum, part) => sum + part, 0);
    if (total - onPonds <= LITTLE * shedInAll) break;
    onPonds = total;
    runoff = base.map((part, label) => part + extra[label]!);
    water = standingWater(ground.tree, ground.storage, runoff);
  }
  const rain = rainMeters * count * area;
  const shedAll = runoff.reduce((sum, part) => sum + part, 0);
  return {
    ...water,
    rainCubicMeters: rain,
    runoffCubicMeters: shedAll,
    soakedCubicMeters: rain - shedAll,
  };
}

/** By label: what fell on standing water and would have soaked in beside it, cubic metres. */
function rainOnPonds(
  { runStart, runLabel, runLowest, cellHeights }: HollowStorage,
  classes: Uint8Array,
  soaked: Float64Array,
  levels: Float64Array,
): Float64Array {
  const extra = new Float64Array(levels.length);
  for (let run = 0; run < runLowest.length; run++) {
    const label = runLabel[run]!;
    const level = levels[label]!;
    if (!(level > runLowest[run]!)) continue;
    const end = runStart[run + 1]!;
    let sum = extra[label]!;
    for (let i = runStart[run]!; i < end; i++) {
      if (level > cellHeights[i]!) sum += soaked[classes[i]!]!;
    }
    extra[label] = sum;
  }
  return extra;
}

/** Classes of `hollowCells` in their order; the same until ground or soils change. */
const hollowClasses = new WeakMap<
  SurfaceCount,
  { readonly of: Int32Array; readonly classes: Uint8Array }
>();

function classesOf({ hollowCells }: StormGround, surface: SurfaceCount): Uint8Array {
  const before = hollowClasses.get(surface);
  if (before?.of === hollowCells) return before.classes;
  const classes = new Uint8Array(hollowCells.length);
  for (let i = 0; i < classes.length; i++) classes[i] = surface.classOf[hollowCells[i]!]!;
  hollowClasses.set(surface, { of: hollowCells, classes });
  return classes;
}

/** Counts the cells with data of each class in each basin, the ocean's included. */
export function* countSurface(
  z: Float32Array,
  labels: Int32Array,
  classOf: Uint8Array,
  labelCount: number,
  classCount: number,
): Work<SurfaceCount> {
  const cells = new Int32Array((labelCount + 1) * classCount);
  const band = 1 << 19;
  for (let from = 0; from < z.length; from += band) {
    const to = Math.min(z.length, from + band);
    countSome(cells, z, labels, classOf, classCount, from, to);
    yield { share: to / z.length, doing: 'counting what sheds where' };
  }
  return { classOf, classCount, cells };
}

function countSome(
  cells: Int32Array,
  z: Float32Array,
  labels: Int32Array,
  classOf: Uint8Array,
  classCount: number,
  from: number,
  to: number,
): void {
  for (let i = from; i < to; i++) {
    const own = z[i]!;
    if (own === own) cells[labels[i]! * classCount + classOf[i]!]!++;
  }
}

/** Cells below the level at which their basin would run off the site, in order. */
export function* hollowCellsOf(
  z: Float32Array,
  labels: Int32Array,
  levels: Float32Array,
  buffers = new StorageBuffers(),
): Work<Int32Array> {
  let count = 0;
  const band = 1 << 17;
  for (let from = 0; from < z.length; from += band) {
    const to = Math.min(z.length, from + band);
    if (buffers.hollowCells.length < count + to - from) {
      const more = new Int32Array(count + (count >> 2) + to - from);
      more.set(buffers.hollowCells);
      buffers.hollowCells = more;
    }
    count = hollowSome(z, labels, levels, buffers.hollowCells, count, from, to);
    yield { share: to / z.length, doing: 'measuring hollows' };
  }
  return buffers.hollowCells.subarray(0, count);
}

function hollowSome(
  z: Float32Array,
  labels: Int32Array,
  levels: Float32Array,
  cells: Int32Array,
  count: number,
  from: number,
  to: number,
): number {
  for (let i = from; i < to; i++) if (z[i]! < levels[labels[i]!]!) cells[count++] = i;
  return count;
}
