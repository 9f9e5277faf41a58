import { simplifyLine } from '../plan/construct/simplify.ts';
import { roundDegrees, type Position } from '../plan/feature.ts';
import { placeAt } from '../plan/line-geometry.ts';
import type { Grid } from '../raster/grid.ts';
import { lineCrossings } from '../water/line-crossings.ts';
import { waterWays } from '../water/water-way.ts';
import type { FlowCatchments } from '../water/flow-lines.ts';
import type { Work } from '../work.ts';
import type { TurnedFlow } from './dam-answers.ts';
import type { DamWindow } from './dam-window.ts';
import type { GroundInUse } from './definition.ts';

type XY = readonly [number, number];

/** A berm or road as a line that water meets. */
export interface DamLine {
  /** Frame metres. */
  readonly line: readonly XY[];
  readonly frameMetersPerMeter: number;
  /** On the ground. */
  readonly lengthMeters: number;
  /** Stretches between gaps, ground metres along the line. */
  readonly solid: readonly (readonly [from: number, to: number])[];
}

/** How far its way is followed once it is past, metres (ours): so that one sees where it goes. */
const ON_METERS = 20;
/** Flow lines nearer to each other than this are one (ours). */
const APART_METERS = 10;

/**
 * Flow that came down to a line and is turned aside by it: where it came, how much, and where it gets
 * past now. What runs through a gap that is there already is not turned.
 */
export function* turnedFlows(
  ground: GroundInUse,
  around: DamWindow,
  dam: DamLine,
  flow: FlowCatchments,
  limits: { readonly gapWidthMeters: number; readonly minSquareMeters: number },
): Work<TurnedFlow[]> {
  const crossings = lineCrossings(ground.grid, flow.areaSquareMeters, dam.line, {
    minSquareMeters: limits.minSquareMeters,
    apartMeters: Math.max(APART_METERS, limits.gapWidthMeters) * dam.frameMetersPerMeter,
  });
  const met = crossings
    .map((crossing) => ({ ...crossing, at: placeAt(dam.line, crossing.stationMeters) }))
    .map((crossing) => ({ ...crossing, start: uphillCell(around, crossing.at.at) }))
    .filter(({ start, stationMeters }) => {
      const station = stationMeters / dam.frameMetersPerMeter;
      return start !== null && dam.solid.some(([from, to]) => station > from && station < to);
    });
  const { grid } = around.sub;
  const filled = { ...grid, data: around.filledAfter };
  const ways = yield* waterWays(filled, met.map(({ start }) => start!)); // prettier-ignore
  const near = nearness(around);
  return met.map(({ stationMeters, catchmentSquareMeters, at }, i): TurnedFlow => {
    const way = ways[i]!;
    const lastNear = way.findLastIndex((cell) => near[cell] === 1);
    const past = lastNear < 0 ? way.length - 1 : lastNear;
    const passes = centreOf(grid, way[past]!);
    const shown = way.slice(0, past + 1 + Math.ceil(ON_METERS / grid.cellWidth));
    const station = stationMeters / dam.frameMetersPerMeter;
    return {
      stationMeters: station,
      at: ground.frame.toLngLat(at.at[0], at.at[1]),
      catchmentSquareMeters,
      passesAt: ground.frame.toLngLat(passes[0], passes[1]),
      line: thinned(ground, grid, shown),
      passesBy: howItPasses(around, dam, way, near, passes),
      movedMeters: Math.hypot(passes[0] - at.at[0], passes[1] - at.at[1]) / dam.frameMetersPerMeter,
    };
  });
}

/** Centres of cells as a line, thinned to within a cell (Douglas & Peucker 1973). */
function thinned({ frame }: GroundInUse, grid: Grid, cells: readonly number[]): Position[] {
  const line = cells.map((cell) => centreOf(grid, cell));
  const keep = simplifyLine(line, grid.cellWidth);
  return line.filter((_, i) => keep[i] === 1).map(([x, y]) => rounded(frame.toLngLat(x, y)));
}

function rounded([lng, lat]: readonly [number, number]): Position {
  return [roundDegrees(lng), roundDegrees(lat)];
}

/** Over what was raised, or past whichever is nearest to where it is seen last: an end, or a gap. */
function howItPasses(
  { before, after }: DamWindow,
  dam: DamLine,
  way: readonly number[],
  near: Uint8Array,
  passes: XY,
): TurnedFlow['passesBy'] {
  if (way.some((cell) => near[cell] === 1 && after[cell]! > before[cell]!)) return 'its-top';
  const away = (station: number) => {
    const { at } = placeAt(dam.line, station * dam.frameMetersPerMeter);
    return Math.hypot(at[0] - passes[0], at[1] - passes[1]);
  };
  const toEnd = Math.min(away(0), away(dam.lengthMeters));
  const toGap = dam.solid.slice(1).map(([from], i) => away((from + dam.solid[i]![1]) / 2));
  return Math.min(...toGap, Infinity) < toEnd ? 'a-gap' : 'an-end';
}

/** Cells that were raised, and those within three of one. */
function nearness({ before, after, sub: { grid } }: DamWindow): Uint8Array {
  const { width, height } = grid;
  const near = new Uint8Array(before.length);
  for (let cell = 0; cell < before.length; cell++) {
    if (!(after[cell]! > before[cell]!)) continue;
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    for (let r = Math.max(0, row - 3); r <= Math.min(height - 1, row + 3); r++) {
      const from = Math.max(0, column - 3);
      near.fill(1, r * width + from, r * width + Math.min(width, column + 4));
    }
  }
  return near;
}

/** The highest ground, filled, just beside what was raised about a place; null where nothing was. */
function uphillCell({ before, after, filledBefore, sub: { grid } }: DamWindow, at: XY) {
  const column = Math.floor((at[0] - grid.west) / grid.cellWidth);
  const row = Math.floor((grid.north - at[1]) / grid.cellHeight);
  const inside = (r: number, c: number) => r >= 0 && c >= 0 && r < grid.height && c < grid.width;
  if (!inside(row, column)) return null;
  const seen = new Set([row * grid.width + column]);
  const queue = [...seen];
  let best: number | null = null;
  for (const cell of queue) {
    if (!(after[cell]! > before[cell]!)) {
      if (best === null || filledBefore[cell]! > filledBefore[best]!) best = cell;
      continue;
    }
    const r = Math.floor(cell / grid.width);
    const c = cell - r * grid.width;
    for (const [dr, dc] of [
      [-1, 0],
      [1, 0],
      [0, -1],
      [0, 1],
    ] as const) {
      // prettier-ignore
      const next = (r + dr) * grid.width + c + dc;
      const isNear = Math.hypot(r + dr - row, c + dc - column) < 40;
      if (!inside(r + dr, c + dc) || seen.has(next) || !isNear) continue;
      seen.add(next);
      queue.push(next);
    }
  }
  return best;
}

export function centreOf(grid: Grid, cell: number): [number, number] {
  const row = Math.floor(cell / grid.width);
  const column = cell - row * grid.width;
  return [grid.west + (column + 0.5) * grid.cellWidth, grid.north - (row + 0.5) * grid.cellHeight];
}

/** Station of the place on a line that is nearest to another, frame metres. */
export function nearestStation(line: readonly XY[], [x, y]: XY): number {
  let best = 0;
  let nearest = Infinity;
  let station = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    const on = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / length ** 2));
    const away = Math.hypot(x - a[0] - on * dx, y - a[1] - on * dy);
    if (away < nearest) {
      nearest = away;
      best = station + on * length;
    }
    station += length;
  }
  return best;
}
