import { distanceToPiece, lineLength, placeAt } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { partOf, type Work } from '../work.ts';
import { exposureField, laneCost, type ExposureAt } from './lane-cost.ts';
import type { LaneGround } from './lane-ground.ts';
import {
  cellUnder,
  defaultExposedFrom,
  exposedMeters,
  isOpenAt,
  laneWalk,
  type ExposedFrom,
  type LaneWalk,
} from './lane-walk.ts';
import { leastCost, wayTo, type CostSurface } from './least-cost.ts';
import { lineCost, wayCost, type CellPoint } from './line-cost.ts';
import { straighten } from './straighten.ts';
import { STEPS } from './steps.ts';

/** A walk to find: into a stand from one of several places, or out of it again. */
export interface LaneJob {
  readonly ground: LaneGround;
  /** Frame metres. */
  readonly stand: XY;
  readonly accessPoints: readonly XY[];
  readonly way: 'in' | 'out';
}

/** Ours, editable. */
export interface LaneOptions {
  /** A second lane has less than this share of its length this near the first, metres. */
  readonly apartMeters: number;
  readonly sharedShare: number;
  /** … and costs at most so many times the first. */
  readonly timesDearer: number;
  /** A lane whose scent reaches protected ground for longer than this is none. */
  readonly scentedMeters: number;
  readonly exposedFrom: ExposedFrom;
  /** How far apart scent is asked for, metres. */
  readonly exposureStepMeters: number;
}

export const defaultLaneOptions: LaneOptions = {
  apartMeters: 20,
  sharedShare: 0.5,
  timesDearer: 3,
  scentedMeters: 40,
  exposedFrom: defaultExposedFrom,
  exposureStepMeters: 8,
};

export interface Lane extends LaneWalk {
  /** Frame metres, in the direction walked. */
  readonly line: readonly XY[];
  /** Index of the access point. */
  readonly access: number;
  /** Weighted seconds: what lanes of one wind are ranked by. */
  readonly cost: number;
  readonly scentedMeters: number;
}

export interface LanesOfWind {
  readonly best: Lane | null;
  readonly second: Lane | null;
  /**
   * Why no lane works: the stand or every access point is off the ground or on barred ground, barred
   * ground lies all round, or even the one that keeps its scent away best does not do so for long
   * enough (it is there to be looked at). Null where one works.
   */
  readonly noLane: 'stand-barred' | 'access-barred' | 'shut-in' | 'scented' | null;
}

/**
 * The best lane between a stand and its access points for each wind and, where one works, a truly
 * different second.
 * `winds`: scent exposure of every place for each. What does not change with the wind is in the
 * job's ground. The second is the best once the neighbourhood of the first is made dear.
 * Throws RangeError where there is no access point.
 */
export function* bestLanes(
  job: LaneJob,
  winds: readonly ExposureAt[],
  options: LaneOptions = defaultLaneOptions,
): Work<LanesOfWind[]> {
  if (job.accessPoints.length === 0) throw new RangeError('no access point');
  const desk = openDesk(job, options);
  const lanes: LanesOfWind[] = [];
  for (let i = 0; i < winds.length; i++) {
    const [from, to] = [i / winds.length, (i + 1) / winds.length];
    lanes.push(yield* partOf(lanesOf(desk, winds[i]!), from, to, 'looking for lanes'));
  }
  return lanes;
}

/** A job with the arrays that all its winds share. */
interface Desk extends LaneJob {
  readonly options: LaneOptions;
  readonly standCell: number;
  readonly accessCells: readonly number[];
  /** By access point. */
  readonly isOpen: readonly boolean[];
  readonly exposure: Float32Array;
  readonly tables: readonly Float32Array[];
  readonly tree: { cost: Float32Array; step: Uint8Array };
}

function openDesk(job: LaneJob, options: LaneOptions): Desk {
  const cells = job.ground.width * job.ground.height;
  return {
    ...job,
    options,
    standCell: cellUnder(job.ground, job.stand),
    accessCells: job.accessPoints.map((place) => cellUnder(job.ground, place)),
    isOpen: job.accessPoints.map((place) => isOpenAt(job.ground, place)),
    exposure: new Float32Array(cells),
    tables: Array.from({ length: STEPS }, () => new Float32Array(cells)),
    tree: { cost: new Float32Array(cells), step: new Uint8Array(cells) },
  };
}

function* lanesOf(desk: Desk, exposureAt: ExposureAt): Work<LanesOfWind> {
  const { ground, options } = desk;
  const none = { best: null, second: null };
  if (!isOpenAt(ground, desk.stand)) return { ...none, noLane: 'stand-barred' };
  if (!desk.isOpen.includes(true)) return { ...none, noLane: 'access-barred' };
  exposureField(ground, exposureAt, options.exposureStepMeters, desk.exposure);
  let surface = laneCost(ground, desk.exposure, desk.tables);
  const found = yield* cheapestWay(desk, surface);
  if (found === null) return { ...none, noLane: 'shut-in' };
  let best = laneOf(desk, surface, found);
  if (best.scentedMeters > options.scentedMeters) {
    // Before it is said that none works: the lane that keeps its scent away above all else.
    const careful = yield* carefulWay(desk);
    surface = laneCost(ground, desk.exposure, desk.tables);
    const lane = careful && laneOf(desk, surface, careful);
    const isBetter = lane !== null && lane.scentedMeters < best.scentedMeters;
    if (isBetter && lane.cost <= best.cost * options.timesDearer) best = lane;
  }
  if (best.scentedMeters > options.scentedMeters) return { best, second: null, noLane: 'scented' };
  return { best, second: yield* secondLane(desk, surface, best), noLane: null };
}

/** How many times more scent counts when it decides whether any lane works. */
const CAREFUL = 10;

function* carefulWay(desk: Desk): Work<FoundWay | null> {
  const { weights } = desk.ground;
  const careful = { ...desk.ground, weights: { ...weights, scent: weights.scent * CAREFUL } };
  return yield* cheapestWay(desk, laneCost(careful, desk.exposure, desk.tables));
}

interface FoundWay {
  readonly access: number;
  readonly corners: readonly CellPoint[];
}

function* cheapestWay(desk: Desk, surface: CostSurface): Work<FoundWay | null> {
  const { standCell, accessCells, isOpen, way, tree } = desk;
  const towardsRoot = way === 'in';
  const until = accessCells.filter((_, i) => isOpen[i]);
  const found = yield* leastCost(surface, standCell, { towardsRoot, until, tree });
  let access = isOpen.indexOf(true);
  accessCells.forEach((cell, i) => {
    if (isOpen[i] && found.cost[cell]! < found.cost[accessCells[access]!]!) access = i;
  });
  const cells = wayTo(found, accessCells[access]!, surface, towardsRoot);
  if (cells.length === 0) return null;
  const centres = Array.from(cells, (cell): CellPoint => {
    const row = Math.floor(cell / surface.width);
    return [cell - row * surface.width + 0.5, row + 0.5];
  });
  return { access, corners: straighten(surface, centres) };
}

/** The line from the places themselves, not from the middles of their cells. */
function laneOf(desk: Desk, surface: CostSurface, { access, corners }: FoundWay): Lane {
  const { ground, stand, accessPoints, way, options, exposure } = desk;
  const ends = way === 'in' ? [accessPoints[access]!, stand] : [stand, accessPoints[access]!];
  const points = corners.slice(1, -1);
  const [first, last] = ends.map((place) => pointOf(ground, place)) as [CellPoint, CellPoint];
  const reaches = (a: CellPoint, b: CellPoint) => lineCost(surface, a, b) < Infinity;
  // Where the shift of an end would cut through barred ground the middle of its cell stays a corner.
  if (!reaches(first, points[0] ?? last)) points.unshift(corners[0]!);
  if (!reaches(points.at(-1) ?? first, last)) points.push(corners.at(-1)!);
  const all = [first, ...points, last];
  const line = all.map((point, i): XY =>
    i === 0 ? ends[0]! : i === all.length - 1 ? ends[1]! : placeOf(ground, point),
  );
  const walk = laneWalk(ground, line, exposure, options.exposedFrom);
  const cost = wayCost(surface, all);
  return { ...walk, line, access, cost, scentedMeters: exposedMeters(walk, 'scent') };
}

/** How much dearer ground near the first lane is made, one after the other. */
const detours = [3, 10];

function* secondLane(desk: Desk, surface: CostSurface, best: Lane): Work<Lane | null> {
  const { ground, options, tables } = desk;
  const near = cellsNear(ground, best.line, options.apartMeters);
  for (const times of detours) {
    const kept = makeDear(tables, near, times);
    const { least, most } = surface.range!;
    const found = yield* cheapestWay(desk, { ...surface, range: { least, most: most * times } });
    putBack(tables, near, kept);
    if (found === null) return null;
    const lane = laneOf(desk, surface, found);
    if (lane.cost > best.cost * options.timesDearer) return null;
    if (shareNear(lane.line, best.line, options.apartMeters) < options.sharedShare) return lane;
  }
  return null;
}

/** Indices of the cells whose middle lies within `meters` of a line. */
function cellsNear(ground: LaneGround, line: readonly XY[], meters: number): number[] {
  const { width, height, west, north, cellWidth, cellHeight } = ground;
  const isNear = new Uint8Array(width * height);
  const near: number[] = [];
  for (let i = 0; i + 1 < line.length; i++) {
    const [a, b] = [line[i]!, line[i + 1]!];
    const left = Math.floor((Math.min(a[0], b[0]) - meters - west) / cellWidth);
    const right = Math.floor((Math.max(a[0], b[0]) + meters - west) / cellWidth);
    const top = Math.floor((north - Math.max(a[1], b[1]) - meters) / cellHeight);
    const bottom = Math.floor((north - Math.min(a[1], b[1]) + meters) / cellHeight);
    for (let r = Math.max(0, top); r <= Math.min(height - 1, bottom); r++) {
      for (let c = Math.max(0, left); c <= Math.min(width - 1, right); c++) {
        const cell = r * width + c;
        if (isNear[cell] !== 0) continue;
        if (distanceToPiece(placeOf(ground, [c + 0.5, r + 0.5]), a, b) > meters) continue;
        isNear[cell] = 1;
        near.push(cell);
      }
    }
  }
  return near;
}

/** Multiplies the costs of some cells; returns what they were, table by table. */
function makeDear(tables: readonly Float32Array[], cells: readonly number[], times: number) {
  const kept = new Float32Array(tables.length * cells.length);
  let at = 0;
  for (const table of tables) {
    for (const cell of cells) {
      kept[at++] = table[cell]!;
      table[cell] = table[cell]! * times;
    }
  }
  return kept;
}

function putBack(tables: readonly Float32Array[], cells: readonly number[], kept: Float32Array) {
  let at = 0;
  for (const table of tables) for (const cell of cells) table[cell] = kept[at++]!;
}

/** Share of a line's length that lies within `meters` of another; 1 for a line of no length. */
export function shareNear(line: readonly XY[], other: readonly XY[], meters: number): number {
  const length = lineLength(line);
  if (length === 0) return 1;
  const parts = Math.max(1, Math.ceil(length / 2));
  let near = 0;
  for (let k = 0; k < parts; k++) {
    const { at } = placeAt(line, (length * (k + 0.5)) / parts);
    const isNear = other.some((p, i) => i > 0 && distanceToPiece(at, other[i - 1]!, p) <= meters);
    if (isNear) near++;
  }
  return near / parts;
}

function pointOf({ west, north, cellWidth, cellHeight }: LaneGround, [x, y]: XY): CellPoint {
  return [(x - west) / cellWidth, (north - y) / cellHeight];
}

function placeOf({ west, north, cellWidth, cellHeight }: LaneGround, [c, r]: CellPoint): XY {
  return [west + c * cellWidth, north - r * cellHeight];
}
