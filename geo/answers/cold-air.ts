import type { XY } from '../plan/overlay/arrangement.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { sitePlaces } from '../approach/siting.ts';
import type { CellWindow } from '../raster/cell-window.ts';
import { airPools, type AirPools } from '../wind/air-pools.ts';
import type { Work } from '../work.ts';
import { cropped } from './dam-window.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import { carriedKinds, planOnGround } from './plan-on-ground.ts';
import type { Seats } from './seats.ts';
import type { SiteBands } from './site-bands.ts';
import { carriedOf } from './water-ground.ts';

/** Ground about some seats, with all that air meets on it, and where cold air stands there. */
export interface ColdAirWindow {
  readonly window: CellWindow;
  /** As surveyed, in the window; what is laid on it and cut into it; and what comes of it. */
  readonly surveyed: GroundInUse;
  readonly carries: readonly PlanFeature[];
  readonly ground: GroundInUse;
  readonly pools: AirPools;
}

/** Beyond the range of scent, so that a pool at its end is whole (ours). */
const MARGIN_METERS = 60;
/** Windows begin and end on a lattice, so that a stand that is dragged keeps its own a while. */
const LATTICE_METERS = 64;

/** The ground that evening air is looked for on: about each seat, seats that are near each other together. */
export const airWindows: SiteDefinition = {
  name: 'airWindows',
  per: 'site',
  shown: false,
  reads: ['answer:seatsOnGround', 'answer:sightGround', 'setting:scentRangeMeters'],
  compute(inputs): { done: readonly CellWindow[] } {
    const seats = inputs.answer('seatsOnGround') as Seats | null;
    const ground = inputs.answer('sightGround') as GroundInUse | null;
    if (!seats || !ground) return { done: [] };
    const { scentRangeMeters } = inputs.settings;
    return {
      done: together(seats.seats.flatMap(({ at }) => airWindow(ground, at, scentRangeMeters) ?? [])), // prettier-ignore
    };
  },
  seenAs: (value) => JSON.stringify(value),
};

/**
 * Where evening air stands on the ground about the seats with everything drawn: it hangs on no wind,
 * so it is made once for a plan.
 */
export const coldAir: SiteDefinition = {
  name: 'coldAir',
  per: 'site',
  shown: false,
  keep: 1,
  reads: [
    'answer:airWindows',
    'answer:sightGround',
    ...carriedKinds.map((kind) => `features:${kind}` as const),
  ],
  *compute(inputs): Work<readonly ColdAirWindow[]> {
    const ground = inputs.answer('sightGround') as GroundInUse | null;
    const windows = inputs.answer('airWindows') as readonly CellWindow[];
    return ground ? yield* coldAirIn(inputs, ground, windows) : [];
  },
};

function* coldAirIn(
  inputs: Inputs,
  ground: GroundInUse,
  windows: readonly CellWindow[],
): Work<readonly ColdAirWindow[]> {
  const found: ColdAirWindow[] = [];
  const carries = airCarries(inputs);
  for (const window of windows) {
    const surveyed = cropped(ground, window);
    const grid = { ...surveyed.grid, data: planOnGround(surveyed, carries) };
    const pools = yield* airPools(grid);
    found.push({ window, surveyed, carries, ground: { ...surveyed, grid }, pools });
  }
  return found;
}

/** The same about every place that a stand could go to: no stand that is dragged makes it anew. */
export const siteAir: SiteDefinition = {
  name: 'siteAir',
  per: 'site',
  shown: false,
  keep: 1,
  reads: [
    'answer:siteBands',
    'answer:sightGround',
    'setting:scentRangeMeters',
    ...carriedKinds.map((kind) => `features:${kind}` as const),
  ],
  *compute(inputs): Work<readonly ColdAirWindow[]> {
    const ground = inputs.answer('sightGround') as GroundInUse | null;
    const bands = inputs.answer('siteBands') as SiteBands | null;
    if (!ground || !bands) return [];
    const { scentRangeMeters } = inputs.settings;
    const windows = bands.plots.flatMap(({ band }) => (band ? sitePlaces(band).flatMap((at) => airWindow(ground, at, scentRangeMeters) ?? []) : [])); // prettier-ignore
    return yield* coldAirIn(inputs, ground, together(windows));
  },
};

/** Cells about a seat as far as its scent is followed, and a margin; null off the ground. */
export function airWindow(
  { grid }: GroundInUse,
  [x, y]: XY,
  rangeMeters: number,
): CellWindow | null {
  const out = rangeMeters + MARGIN_METERS;
  const [across, down] = [grid.cellWidth, grid.cellHeight].map((cell) => Math.ceil(LATTICE_METERS / cell)); // prettier-ignore
  const low = (at: number, step: number) => Math.max(0, Math.floor(at / step) * step);
  const high = (at: number, step: number, most: number) => Math.min(most, Math.ceil(at / step) * step); // prettier-ignore
  const column = low((x - out - grid.west) / grid.cellWidth, across!);
  const row = low((grid.north - y - out) / grid.cellHeight, down!);
  const width = high((x + out - grid.west) / grid.cellWidth, across!, grid.width) - column;
  const height = high((grid.north - y + out) / grid.cellHeight, down!, grid.height) - row;
  return width >= 3 && height >= 3 ? { column, row, width, height } : null;
}

/** No air to speak of goes through a pipe. */
function airCarries(inputs: Inputs): PlanFeature[] {
  return carriedOf(inputs).filter(({ kind }) => kind !== 'culvert' && kind !== 'outlet');
}

/** Windows joined while that costs no more cells than they have apart. */
function together(windows: readonly CellWindow[]): CellWindow[] {
  const out: CellWindow[] = [];
  for (let next of windows) {
    for (let i = 0; i < out.length; i++) {
      const both = joined(out[i]!, next);
      if (cells(both) > cells(out[i]!) + cells(next)) continue;
      next = both;
      out.splice(i, 1);
      i = -1;
    }
    out.push(next);
  }
  return out;
}

function joined(a: CellWindow, b: CellWindow): CellWindow {
  const column = Math.min(a.column, b.column);
  const row = Math.min(a.row, b.row);
  const right = Math.max(a.column + a.width, b.column + b.width);
  const bottom = Math.max(a.row + a.height, b.row + b.height);
  return { column, row, width: right - column, height: bottom - row };
}

function cells({ width, height }: CellWindow): number {
  return width * height;
}

/** The window that a seat's own lies in; null off the ground. */
export function coldAirAbout(
  windows: readonly ColdAirWindow[],
  ground: GroundInUse,
  at: XY,
  rangeMeters: number,
): ColdAirWindow | null {
  const own = airWindow(ground, at, rangeMeters);
  if (!own) return null;
  const holds = ({ window }: ColdAirWindow) => cells(joined(window, own)) === cells(window);
  return windows.find(holds) ?? null;
}
