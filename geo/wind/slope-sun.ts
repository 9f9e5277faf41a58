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
const FINE_MILLISECONDS = 10_000;

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

/**
 * When the sun first strikes and last leaves a slope on the local day about an instant (Unix
 * milliseconds, UTC): it must stand above the horizon of the ground and before the slope's face.
 * Looked for every 5 minutes, then to 10 s. Null where it never does, or does not rise.
 * `convergenceDegrees`: a true bearing is the grid bearing plus this. Throws RangeError as `sunTimes`.
 */
export function sunOnSlope(
  slope: SeatSlope,
  horizon: HorizonProfile,
  place: { readonly longitude: number; readonly latitude: number },
  noonUtcMilliseconds: number,
  convergenceDegrees = 0,
): SunOnSlope | null {
  const { longitude, latitude } = place;
  const sun = sunTimes(longitude, latitude, noonUtcMilliseconds);
  const { riseUtcMilliseconds: rise, setUtcMilliseconds: set } = sun;
  if (rise === null || set === null) return null;
  const isLit = (instant: number) => {
    const { azimuthDegrees, elevationDegrees } = sunPosition(longitude, latitude, instant);
    const bearing = azimuthDegrees - convergenceDegrees;
    if (elevationDegrees <= Math.max(0, horizonAt(horizon, bearing))) return false;
    return facing(slope, bearing, elevationDegrees) > 0;
  };
  const times: number[] = [];
  for (let t = rise; t < set; t += SCAN_MILLISECONDS) times.push(t);
  times.push(set);
  const first = times.findIndex(isLit);
  if (first < 0) return null;
  const last = times.findLastIndex(isLit);
  return {
    strikesUtcMilliseconds: first === 0 ? rise : between(times[first - 1]!, times[first]!, isLit),
    leavesUtcMilliseconds:
      last === times.length - 1 ? set : between(times[last + 1]!, times[last]!, isLit),
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

/** The instant at which `isLit` turns true on the way from dark to lit, to 10 s. */
function between(dark: number, lit: number, isLit: (instant: number) => boolean): number {
  while (Math.abs(lit - dark) > FINE_MILLISECONDS) {
    const middle = (dark + lit) / 2;
    if (isLit(middle)) lit = middle;
    else dark = middle;
  }
  return lit;
}
