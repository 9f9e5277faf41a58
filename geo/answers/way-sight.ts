import { isSeen, type Eye } from '../ground/line-of-sight.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { isKind } from '../plan/feature.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import type { Grid } from '../raster/grid.ts';
import { sampleBilinear } from '../raster/sample.ts';
import { cropped } from './dam-window.ts';
import type { GroundInUse, Inputs } from './definition.ts';
import { inFrame } from './ground-inputs.ts';
import { lineInFrame } from './plan-on-ground.ts';

/** A deer in the plot and its eye, a person who walks: common practice (trade notes Q22, Q37). */
const DEER_METERS = 0.9;
const WALKER_METERS = 1.7;
/** Seats and lanes farther from the plot than so do not matter: 300 yd (trade notes §6.8). */
const REACH_METERS = 274.32;
/** Places of the plot that are looked at, and that look at a lane; steps along a lane, metres. */
const LOOKED_AT = 600;
const LOOKING = 40;
const LANE_STEP = 4;

/** What is to be seen over a surface; heights of it, frame metres. */
export interface Sight {
  readonly seats: readonly { readonly standId: string; readonly share: number }[];
  readonly laneShare: number | null;
}

/** Seats and lane places near a plot, found once for every surface that is tried. */
export interface Watchers {
  readonly seats: readonly { readonly standId: string; readonly eye: Eye }[];
  readonly lane: readonly XY[];
  readonly plot: readonly XY[];
  readonly deer: readonly XY[];
}

export function watchersOf(
  inputs: Inputs,
  { grid, frame }: GroundInUse,
  rings: readonly (readonly XY[])[],
  lanes: readonly PlanFeature[],
): Watchers {
  const plot = placesIn(rings, LOOKED_AT);
  const isNear = ([x, y]: XY) =>
    plot.some(([px, py]) => Math.hypot(px - x, py - y) <= REACH_METERS);
  const seats = [...inputs.features('stand')]
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .flatMap((stand) => {
      const at = stand.geometry.type === 'Point' && inFrame(frame, stand.geometry.coordinates);
      if (!at || !isKind(stand, 'stand') || !isNear(at)) return [];
      const z = sampleBilinear(grid, at[0], at[1]) + stand.properties.seatHeightMeters;
      return Number.isNaN(z) ? [] : [{ standId: stand.id, eye: { x: at[0], y: at[1], z } }];
    });
  const lane = lanes.flatMap((one) => alongLine(lineInFrame({ frame }, one) ?? [])).filter(isNear);
  return { seats, lane, plot, deer: placesIn(rings, LOOKING) };
}

export function sightOver(surface: Grid, { seats, lane, plot, deer }: Watchers): Sight {
  const seen = (eye: Eye) =>
    plot.filter(([x, y]) => isSeen(surface, eye, x, y, DEER_METERS)).length / plot.length;
  const eyes = deer.flatMap(([x, y]): Eye[] => {
    const z = sampleBilinear(surface, x, y) + DEER_METERS;
    return Number.isNaN(z) ? [] : [{ x, y, z }];
  });
  const shown = lane.filter(([x, y]) => eyes.some((eye) => isSeen(surface, eye, x, y, WALKER_METERS))); // prettier-ignore
  return {
    seats: plot.length === 0 ? [] : seats.map(({ standId, eye }) => ({ standId, share: seen(eye) })), // prettier-ignore
    laneShare: lane.length === 0 ? null : shown.length / lane.length,
  };
}

/** What is raised reaches so far past what is looked at and from, metres. */
const ROUND_METERS = 30;

/** The part of a ground that all lines of sight run over. */
export function sightGround(ground: GroundInUse, { seats, lane, plot }: Watchers): GroundInUse {
  const { west, north, cellWidth, cellHeight, width, height } = ground.grid;
  const eyes = seats.map(({ eye }): XY => [eye.x, eye.y]);
  const points = [...eyes, ...lane, ...plot];
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const clamp = (value: number, most: number) => Math.min(most, Math.max(0, Math.round(value)));
  const left = clamp((Math.min(...xs) - ROUND_METERS - west) / cellWidth, width);
  const right = clamp((Math.max(...xs) + ROUND_METERS - west) / cellWidth, width);
  const top = clamp((north - Math.max(...ys) - ROUND_METERS) / cellHeight, height);
  const bottom = clamp((north - Math.min(...ys) + ROUND_METERS) / cellHeight, height);
  if (right <= left || bottom <= top) return ground;
  return cropped(ground, { column: left, row: top, width: right - left, height: bottom - top });
}

/** About so many places evenly over a polygon. */
export function placesIn(rings: readonly (readonly XY[])[], count: number): XY[] {
  const corners = rings.flat();
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  const [west, south] = [Math.min(...xs), Math.min(...ys)];
  const [wide, high] = [Math.max(...xs) - west, Math.max(...ys) - south];
  const step = Math.sqrt((wide * high) / (2 * count));
  const places: XY[] = [];
  for (let y = south + step / 2; y < south + high; y += step) {
    for (let x = west + step / 2; x < west + wide; x += step) {
      if (isInPolygon([x, y], rings)) places.push([x, y]);
    }
  }
  return places;
}

function alongLine(line: readonly XY[]): XY[] {
  const length = lineLength(line);
  if (!(length > 0)) return [];
  const count = Math.ceil(length / LANE_STEP);
  return Array.from({ length: count }, (_, i) => placeAt(line, ((i + 0.5) * length) / count).at);
}
