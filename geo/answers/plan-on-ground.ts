import { bermSolids } from '../debris/berm-solid.ts';
import { heapFootprint } from '../debris/footprint.ts';
import { outlineHeightAt } from '../debris/heap-height.ts';
import { pointHeap } from '../debris/point-heap.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import { cutChannel, raiseRidge } from '../ground/earthworks.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { lineLength } from '../plan/line-geometry.ts';
import type { Kind } from '../plan/kinds.ts';
import { polygonMask } from '../raster/polygon-mask.ts';
import { sampleBilinear } from '../raster/sample.ts';
import type { GroundInUse } from './definition.ts';
import { inFrame } from './ground-inputs.ts';

type XY = readonly [number, number];

/** What is drawn that water meets. */
export const carriedKinds = [
  'berm',
  'heap',
  'structure',
  'lane',
  'ditch',
  'culvert',
  'outlet',
] as const satisfies readonly Kind[];

/** Flat top of a road's fill where its width is not said: a track for one machine (ours). */
const ROAD_TOP_METERS = 3.6576;
/** Sides of a road's fill, metres out for a metre up: common practice, no source. */
const ROAD_SIDE_RUN = 2;

/**
 * Heights of a ground with what is drawn laid on it and cut into it, in the ground's own order;
 * NaN stays NaN. What is raised comes first: a ditch or culvert through a berm lets water through.
 * What lies off the ground, or does not say how high it is, changes nothing.
 */
export function planOnGround(ground: GroundInUse, carries: readonly PlanFeature[]): Float32Array {
  const data = ground.grid.data.slice();
  for (const one of carries) raise(ground, data, one);
  for (const one of carries) cutInto(ground, data, one);
  return data;
}

/** Whether anything of it stands above the ground. */
export function isRaised(one: PlanFeature): boolean {
  if (isKind(one, 'berm')) return one.properties.heightMeters > 0;
  if (isKind(one, 'heap')) return (one.properties.heightMeters ?? 0) > 0;
  return isRoad(one) && (one.properties.fillHeightMeters ?? 0) > 0;
}

/** How far from its line or outline it reaches, metres. */
export function reachMeters(one: PlanFeature): number {
  if (isKind(one, 'berm')) return one.properties.baseWidthMeters / 2;
  if (isKind(one, 'heap')) {
    const ball = one.properties.shape === 'half-sphere' ? (one.properties.heightMeters ?? 0) : 0;
    return Math.max(ball, halfOf(one.properties));
  }
  return isRoad(one) ? roadSection(one).halfWidth : 0;
}

function halfOf(heap: PlanFeature<'heap'>['properties']): number {
  const { lengthMeters, widthMeters, farWidthMeters } = heap;
  // A tapered heap with round ends reaches half its widths past its length.
  const ends = Math.max(widthMeters ?? 0, farWidthMeters ?? 0);
  return ((lengthMeters ?? 0) + (heap.shape === 'half-frustum-rounded' ? ends : 0) + ends) / 2;
}

/** What is driven or walked on, and may stand on a fill. */
type Road = PlanFeature<'structure'> | PlanFeature<'lane'>;

function isRoad(one: PlanFeature): one is Road {
  if (isKind(one, 'lane')) return true;
  const { use } = isKind(one, 'structure') ? one.properties : { use: null };
  return use === 'road' || use === 'track';
}

function roadSection({ properties }: Road) {
  const height = properties.fillHeightMeters ?? 0;
  const halfTop = (properties.widthMeters ?? ROAD_TOP_METERS) / 2;
  return { height, halfTop, halfWidth: halfTop + ROAD_SIDE_RUN * height };
}

function raise(ground: GroundInUse, data: Float32Array, one: PlanFeature): void {
  if (!isRaised(one)) return;
  if (isKind(one, 'berm')) layBerm(ground, data, one);
  else if (isKind(one, 'heap')) layHeap(ground, data, one);
  else if (isRoad(one)) layRoad(ground, data, one);
}

function layRoad(ground: GroundInUse, data: Float32Array, road: Road): void {
  const line = lineInFrame(ground, road);
  if (!line || !(lineLength(line) > 0)) return;
  const { height, halfTop, halfWidth } = roadSection(road);
  raiseRidge(ground.grid, data, {
    line,
    halfWidth,
    roundEnds: false,
    heightAt: (distance) => height - Math.max(0, distance - halfTop) / ROAD_SIDE_RUN,
  });
}

function layHeap(ground: GroundInUse, data: Float32Array, heap: PlanFeature<'heap'>): void {
  const { grid, frame } = ground;
  const solid = solidOf(heap, frame);
  if (!solid) return;
  const spans = polygonMask(grid, solid.rings);
  for (let i = 0; i < spans.count; i++) {
    const row = spans.row[i]!;
    const y = grid.north - (row + 0.5) * grid.cellHeight;
    for (let column = spans.start[i]!; column < spans.end[i]!; column++) {
      const cell = row * grid.width + column;
      const z = grid.data[cell]! + solid.heightAt(grid.west + (column + 0.5) * grid.cellWidth, y);
      if (z > data[cell]!) data[cell] = z;
    }
  }
}

function solidOf(heap: PlanFeature<'heap'>, frame: GroundInUse['frame']) {
  const { geometry, properties } = heap;
  try {
    if (geometry.type === 'Point') {
      const round = pointHeap(properties, geometry.coordinates, frame);
      return round && { rings: [[...round.ring, round.ring[0]!]], heightAt: round.heightAt };
    }
    const rings = heapFootprint(heap, frame)?.rings.map((ring) => [...ring, ring[0]!]);
    return rings ? { rings, heightAt: outlineHeightAt(rings, properties.heightMeters ?? 0) } : null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** A line's corners in frame metres; null where the frame has no place for one of them. */
export function lineInFrame(
  { frame }: Pick<GroundInUse, 'frame'>,
  { geometry }: PlanFeature,
): XY[] | null {
  if (geometry.type !== 'LineString') return null;
  const line = geometry.coordinates.map((position) => inFrame(frame, position));
  return line.includes(null) ? null : (line as XY[]);
}

function layBerm(ground: GroundInUse, data: Float32Array, berm: PlanFeature<'berm'>): void {
  const line = lineInFrame(ground, berm);
  if (!line || berm.geometry.type !== 'LineString') return;
  const scale = lineLength(line) / lineLengthMeters(berm.geometry.coordinates);
  for (const solid of bermSolids(line, berm.properties, scale)) {
    raiseRidge(ground.grid, data, solid);
  }
}

function cutInto(ground: GroundInUse, data: Float32Array, one: PlanFeature): void {
  const surface = { ...ground.grid, data };
  if (isKind(one, 'outlet') && one.geometry.type === 'Point') {
    const at = inFrame(ground.frame, one.geometry.coordinates);
    const cell = at && cellAt(ground, at);
    // Where there is no ground, water leaves.
    if (cell !== null) data[cell] = NaN;
    return;
  }
  const line = lineInFrame(ground, one);
  if (!line || !(lineLength(line) > 0)) return;
  if (isKind(one, 'culvert')) {
    const [start, end] = [line[0]!, line.at(-1)!].map((at) =>
      sampleBilinear(ground.grid, at[0], at[1]),
    );
    const length = lineLength(line);
    const bottomAt = (station: number) => start! + ((end! - start!) * station) / length;
    if (Number.isNaN(bottomAt(0))) return;
    // One cell wide at the least, or no cell would be cut through.
    const halfBottom = Math.max(ground.grid.cellWidth, ground.grid.cellHeight) * 0.71;
    cutChannel(surface, data, { line, halfBottom, sideRun: 0, bottomAt, reach: halfBottom });
  }
  if (isKind(one, 'ditch')) cutDitch(ground, data, one, line);
}

function cutDitch(
  ground: GroundInUse,
  data: Float32Array,
  { properties }: PlanFeature<'ditch'>,
  line: readonly XY[],
): void {
  const { depthMeters, bottomStartMeters, bottomEndMeters } = properties;
  const length = lineLength(line);
  let bottomAt: (station: number) => number;
  if (bottomStartMeters !== null && bottomEndMeters !== null) {
    const fall = bottomEndMeters - bottomStartMeters;
    bottomAt = (station) => bottomStartMeters + (fall * station) / length;
  } else if (depthMeters !== null && depthMeters > 0) {
    bottomAt = fallingBottom(ground, line, depthMeters);
  } else return;
  const halfBottom = Math.max(properties.bottomWidthMeters / 2, ground.grid.cellWidth * 0.71);
  const deepest = deepestCut(ground, line, bottomAt);
  const reach = halfBottom + properties.sideSlopeRun * Math.max(0, deepest);
  cutChannel({ ...ground.grid, data }, data, {
    ...{ line, halfBottom, reach, bottomAt },
    sideRun: properties.sideSlopeRun,
  });
}

/** So deep under the ground along the line, and nowhere higher than anywhere before. */
function fallingBottom(ground: GroundInUse, line: readonly XY[], depth: number) {
  const { stations, heights } = groundAlong(ground, line);
  let lowest = Infinity;
  const bottoms = heights.map((z) => (lowest = Math.min(lowest, Number.isNaN(z) ? Infinity : z - depth))); // prettier-ignore
  const step = stations[1]!;
  return (station: number) => bottoms[Math.min(bottoms.length - 1, Math.round(station / step))]!;
}

function deepestCut(ground: GroundInUse, line: readonly XY[], bottomAt: (s: number) => number) {
  const { stations, heights } = groundAlong(ground, line);
  return heights.reduce((most, z, i) => {
    const cut = z - bottomAt(stations[i]!);
    return cut > most ? cut : most;
  }, 0);
}

/** Ground under a line, a cell apart. */
function groundAlong({ grid }: GroundInUse, line: readonly XY[]) {
  const length = lineLength(line);
  const count = Math.max(2, Math.ceil(length / grid.cellWidth) + 1);
  const stations = Array.from({ length: count }, (_, i) => (length * i) / (count - 1));
  const heights: number[] = [];
  let station = 0;
  let piece = 1;
  for (const at of stations) {
    while (piece < line.length - 1 && station + run(line, piece) < at)
      station += run(line, piece++);
    const share = run(line, piece) === 0 ? 0 : Math.min(1, (at - station) / run(line, piece));
    const [a, b] = [line[piece - 1]!, line[piece]!];
    heights.push(sampleBilinear(grid, a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share));
  }
  return { stations, heights };
}

function run(line: readonly XY[], piece: number): number {
  const [a, b] = [line[piece - 1]!, line[piece]!];
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

function cellAt({ grid }: GroundInUse, [x, y]: XY): number | null {
  const column = Math.floor((x - grid.west) / grid.cellWidth);
  const row = Math.floor((grid.north - y) / grid.cellHeight);
  const isOn = column >= 0 && row >= 0 && column < grid.width && row < grid.height;
  return isOn ? row * grid.width + column : null;
}
