import { placeAt, lineLength } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { LaneGround } from './lane-ground.ts';
import { walkingTime } from './walking-time.ts';

export type Giveaway = 'scent' | 'seen' | 'wet' | 'steep';

/** From where on a stretch of a lane counts as exposed. Ours, editable. */
export interface ExposedFrom {
  /** Likelihood that scent reaches protected ground, share of eyes that see, share of wet ground. */
  readonly scent: number;
  readonly seen: number;
  readonly wet: number;
}

export const defaultExposedFrom: ExposedFrom = { scent: 0.1, seen: 0.05, wet: 0.5 };

export interface ExposedStretch {
  /** Metres of the lane from where it is entered. */
  readonly fromMeters: number;
  readonly toMeters: number;
  readonly why: Giveaway;
  /** The most on the stretch, in the unit of its reason (a share; rise over run), and where. */
  readonly most: number;
  readonly mostAtMeters: number;
}

/** A lane as one walks it. */
export interface LaneWalk {
  readonly lengthMeters: number;
  readonly climbMeters: number;
  readonly seconds: number;
  /** By reason, then station. */
  readonly exposed: readonly ExposedStretch[];
}

/** Heights this near each other are the survey's noise and no climb. */
const PACE_METERS = 10;

/**
 * Length, climb, time and exposed stretches of a line (frame metres, in the direction walked) over a
 * lane ground; `exposure` is scent by its cells. Read every half cell; time and climb by heights
 * 10 m apart. A stretch begins and ends halfway between a station that is exposed and one that is
 * not. Length and stations are frame metres.
 */
export function laneWalk(
  ground: LaneGround,
  line: readonly XY[],
  exposure: Float32Array,
  from: ExposedFrom = defaultExposedFrom,
): LaneWalk {
  const lengthMeters = lineLength(line);
  if (lengthMeters === 0) return { lengthMeters, climbMeters: 0, seconds: 0, exposed: [] };
  const { weights, seen, wet, slope } = ground;
  const step = Math.min(ground.cellWidth, ground.cellHeight) / 2;
  const stations = stationsAlong(lengthMeters, step);
  const cells = stations.map((station) => cellUnder(ground, placeAt(line, station).at));
  const values: Record<Giveaway, readonly [values: Float32Array, from: number]> = {
    scent: [exposure, from.scent],
    seen: [seen, from.seen],
    wet: [wet, from.wet],
    steep: [slope, weights.steepFrom],
  };
  const exposed = (Object.keys(values) as Giveaway[]).flatMap((why) => {
    const [layer, least] = values[why];
    return runsOf(
      stations,
      cells.map((cell) => layer[cell]!),
      least,
    ).map((run) => ({ ...run, why }));
  });
  const paces = stationsAlong(lengthMeters, PACE_METERS);
  const heights = paces.map((station) => heightAt(ground, placeAt(line, station).at));
  const { seconds, climbMeters } = walkingTime(paces, heights, (piece) => {
    const middle = (paces[piece]! + paces[piece + 1]!) / 2;
    return ground.speedFactor[cellUnder(ground, placeAt(line, middle).at)]!;
  });
  return { lengthMeters, climbMeters, seconds, exposed };
}

/** Metres of a lane that are exposed for a reason. */
export function exposedMeters(walk: LaneWalk, why: Giveaway): number {
  return walk.exposed.reduce((sum, e) => sum + (e.why === why ? e.toMeters - e.fromMeters : 0), 0);
}

/** Whether one can stand at a place: on the ground, where nothing bars it. */
export function isOpenAt(ground: LaneGround, place: XY): boolean {
  const { width, height, west, north, cellWidth, cellHeight } = ground;
  const [across, down] = [(place[0] - west) / cellWidth, (north - place[1]) / cellHeight];
  const isOn = across >= 0 && down >= 0 && across <= width && down <= height;
  return isOn && ground.barred[cellUnder(ground, place)] === 0;
}

/** Index of the cell that holds a place; places on or past the rim belong to the rim. */
export function cellUnder(ground: LaneGround, [x, y]: XY): number {
  const { width, height, west, north, cellWidth, cellHeight } = ground;
  const column = Math.min(width - 1, Math.max(0, Math.floor((x - west) / cellWidth)));
  const row = Math.min(height - 1, Math.max(0, Math.floor((north - y) / cellHeight)));
  return row * width + column;
}

function stationsAlong(length: number, step: number): number[] {
  const pieces = Math.max(1, Math.ceil(length / step));
  return Array.from({ length: pieces + 1 }, (_, i) => (length * i) / pieces);
}

function runsOf(stations: readonly number[], values: readonly number[], least: number) {
  const runs: Omit<ExposedStretch, 'why'>[] = [];
  for (let i = 0; i < values.length; i++) {
    if (!(values[i]! >= least && values[i]! > 0)) continue;
    const first = i;
    let top = i;
    while (i + 1 < values.length && values[i + 1]! >= least && values[i + 1]! > 0) {
      i++;
      if (values[i]! > values[top]!) top = i;
    }
    runs.push({
      fromMeters: first === 0 ? 0 : (stations[first - 1]! + stations[first]!) / 2,
      toMeters: i === values.length - 1 ? stations[i]! : (stations[i]! + stations[i + 1]!) / 2,
      most: values[top]!,
      mostAtMeters: stations[top]!,
    });
  }
  return runs;
}

/** Between the middles of cells, bilinear; of the cell alone where a neighbour has no height. */
function heightAt(ground: LaneGround, place: XY): number {
  const { width, height, west, north, cellWidth, cellHeight, heights } = ground;
  const across = (place[0] - west) / cellWidth - 0.5;
  const down = (north - place[1]) / cellHeight - 0.5;
  const c = Math.min(Math.max(0, Math.floor(across)), Math.max(0, width - 2));
  const r = Math.min(Math.max(0, Math.floor(down)), Math.max(0, height - 2));
  const u = Math.min(1, Math.max(0, across - c));
  const v = Math.min(1, Math.max(0, down - r));
  const at = (column: number, row: number) =>
    heights[Math.min(row, height - 1) * width + Math.min(column, width - 1)]!;
  const upper = at(c, r) * (1 - u) + at(c + 1, r) * u;
  const lower = at(c, r + 1) * (1 - u) + at(c + 1, r + 1) * u;
  const between = upper * (1 - v) + lower * v;
  return between === between ? between : heights[cellUnder(ground, place)]!;
}
