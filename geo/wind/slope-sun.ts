import type { Grid } from '../raster/grid.ts';
import { sampleBilinear } from '../raster/sample.ts';
import type { SeatSlope, SunOnSlope } from './slope-flow.ts';
import { sunPosition } from './sun-position.ts';
import { degrees, radians } from './sun-series.ts';
import { sunTimes } from './sun-times.ts';

/** How high the ground stands round a place, by grid bearing. */
export interface HorizonProfile {
  /** Degrees between bearings; the first is grid north. */
  readonly stepDegrees: number;
  /** Above the level, degrees; 0 where nothing is higher than the level or the grid ends. */
  readonly elevationDegrees: Float32Array;
}

const STEP_DEGREES = 5;
const EYE_METERS = 1;
const SCAN_MILLISECONDS = 5 * 60_000;

/**
 * The horizon that bare ground makes round a place in the frame (metres), 1 m above it: the steepest
 * sight line to ground along each bearing, half a cell a step, to the grid's edge or `reachMeters`. Ground
 * off the grid and without data hides nothing, so sun times at the rim are too early and too late.
 * NaN everywhere where the place itself has no ground.
 */
export function horizonProfile(
  grid: Grid,
  x: number,
  y: number,
  reachMeters = 2000,
  stepDegrees = STEP_DEGREES,
): HorizonProfile {
  const count = Math.round(360 / stepDegrees);
  const elevationDegrees = new Float32Array(count);
  const eye = sampleBilinear(grid, x, y) + EYE_METERS;
  if (Number.isNaN(eye)) return { stepDegrees, elevationDegrees: elevationDegrees.fill(NaN) };
  const pace = Math.min(grid.cellWidth, grid.cellHeight) / 2;
  const paces = Math.floor(reachMeters / pace);
  const [width, height] = [grid.width * grid.cellWidth, grid.height * grid.cellHeight];
  for (let k = 0; k < count; k++) {
    const angle = radians(k * stepDegrees);
    const [east, north] = [Math.sin(angle) * pace, Math.cos(angle) * pace];
    let steepest = 0;
    for (let i = 1; i <= paces; i++) {
      const across = x + i * east - grid.west;
      const down = grid.north - (y + i * north);
      if (across < 0 || down < 0 || across >= width || down >= height) break;
      const column = Math.floor(across / grid.cellWidth);
      const row = Math.floor(down / grid.cellHeight);
      const rise = (grid.data[row * grid.width + column]! - eye) / (i * pace);
      if (rise > steepest) steepest = rise;
    }
    elevationDegrees[k] = degrees(Math.atan(steepest));
  }
  return { stepDegrees, elevationDegrees };
}

/** Elevation of the horizon at a grid bearing, between its steps. */
export function horizonAt(
  { stepDegrees, elevationDegrees }: HorizonProfile,
  bearing: number,
): number {
  const count = elevationDegrees.length;
  const at = (((bearing % 360) + 360) % 360) / stepDegrees;
  const low = Math.floor(at) % count;
  const share = at - Math.floor(at);
  return elevationDegrees[low]! * (1 - share) + elevationDegrees[(low + 1) % count]! * share;
}

/** The sun of one day from rise to set, every 5 minutes; made once for all places of a tract. */
export interface SunPath {
  /** Unix milliseconds, UTC. */
  readonly times: Float64Array;
  readonly azimuthDegrees: Float64Array;
  readonly elevationDegrees: Float64Array;
}

/** The path of the local day about an instant; null on a day without sunrise or sunset. */
export function sunPath(
  longitude: number,
  latitude: number,
  noonUtcMilliseconds: number,
): SunPath | null {
  const sun = sunTimes(longitude, latitude, noonUtcMilliseconds);
  const { riseUtcMilliseconds: rise, setUtcMilliseconds: set } = sun;
  if (rise === null || set === null) return null;
  const count = Math.max(2, Math.ceil((set - rise) / SCAN_MILLISECONDS) + 1);
  const times = new Float64Array(count);
  const azimuthDegrees = new Float64Array(count);
  const elevationDegrees = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    times[i] = i === count - 1 ? set : rise + i * SCAN_MILLISECONDS;
    const at = sunPosition(longitude, latitude, times[i]!);
    azimuthDegrees[i] = at.azimuthDegrees;
    elevationDegrees[i] = at.elevationDegrees;
  }
  return { times, azimuthDegrees, elevationDegrees };
}

/**
 * When the sun first strikes and last leaves a slope on its path: it must stand above the horizon of
 * the ground and before the slope's face. Between the steps of the path it is taken to go straight.
 * Null where it never strikes. `convergenceDegrees`: a true bearing is the grid bearing plus this.
 */
export function sunOnSlope(
  slope: SeatSlope,
  horizon: HorizonProfile,
  path: SunPath,
  convergenceDegrees = 0,
): SunOnSlope | null {
  const { times, azimuthDegrees, elevationDegrees } = path;
  const isLit = (step: number, share: number) => {
    const [a, b] = [azimuthDegrees[step]!, azimuthDegrees[step + 1] ?? NaN];
    // The path may pass through north.
    const turn = share === 0 ? 0 : ((b - a + 540) % 360) - 180;
    const bearing = a + share * turn - convergenceDegrees;
    const climb = share === 0 ? 0 : elevationDegrees[step + 1]! - elevationDegrees[step]!;
    const elevation = elevationDegrees[step]! + share * climb;
    if (elevation <= Math.max(0, horizonAt(horizon, bearing))) return false;
    return facing(slope, bearing, elevation) > 0;
  };
  let first = 0;
  while (first < times.length && !isLit(first, 0)) first++;
  if (first === times.length) return null;
  let last = times.length - 1;
  while (!isLit(last, 0)) last--;
  const at = (step: number, share: number) =>
    times[step]! + share * (times[step + 1]! - times[step]!);
  const strikes =
    first === 0
      ? times[0]!
      : at(
          first - 1,
          turning((share) => isLit(first - 1, share)),
        );
  const leaves =
    last === times.length - 1
      ? times[last]!
      : at(
          last,
          turning((share) => !isLit(last, share)),
        );
  return {
    strikesUtcMilliseconds: strikes,
    leavesUtcMilliseconds: leaves,
    setsUtcMilliseconds: times.at(-1)!,
  };
}

/** Cosine of the angle between the sun and the slope's upright, times the slope's length: its sign. */
function facing(
  { grade, fallsTowardDegrees }: SeatSlope,
  bearing: number,
  elevation: number,
): number {
  const up = Math.sin(radians(elevation));
  if (fallsTowardDegrees === null) return up;
  const along = Math.cos(radians(bearing - fallsTowardDegrees)) * Math.cos(radians(elevation));
  return up + grade * along;
}

/** The share of a step at which something turns true that is false at 0 and true at 1. */
function turning(isTrue: (share: number) => boolean): number {
  let [low, high] = [0, 1];
  for (let pass = 0; pass < 8; pass++) {
    const middle = (low + high) / 2;
    if (isTrue(middle)) high = middle;
    else low = middle;
  }
  return high;
}
