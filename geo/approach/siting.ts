import { distanceToPiece } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import type { Grid } from '../raster/grid.ts';
import { cellAt } from '../raster/sample.ts';
import { neededFor } from '../sight/eye-needed.ts';
import { eyeOn } from '../sight/lookout.ts';
import type { Work } from '../work.ts';

/** Where a stand for a plot could go, and what speaks for a place. Frame metres. */
export interface SitingJob {
  readonly ground: Grid;
  /** Rings of the plot. */
  readonly plot: readonly (readonly XY[])[];
  /** The band: so far outside the plot's edge, and places asked so far apart. */
  readonly nearMeters: number;
  readonly farMeters: number;
  readonly stepMeters: number;
  readonly eyeMeters: number;
  readonly targetMeters: number;
  readonly rangeMeters: number;
  /** Opaque metres on the ground, as for a `Lookout`. */
  readonly screens?: Float32Array | null;
  /** False on ground where no stand may be: no-go, setbacks, off the tract. */
  readonly isAllowed: (x: number, y: number) => boolean;
  /** Share of the season's hours that a stand there works, 0 to 1. */
  readonly hoursShareAt: (x: number, y: number) => number;
  /** Share that the way in leaves of an untroubled walk, 0 to 1. */
  readonly laneQualityAt: (x: number, y: number) => number;
}

/** Which places of a band to take. */
export interface SiteChoice {
  /** At least so far from what stands already, and at most so many. */
  readonly apartMeters: number;
  /** Whether two places are different enough to be given both. */
  readonly isOther: (a: XY, b: XY) => boolean;
  readonly count: number;
  /** Stands that are drawn. */
  readonly standing: readonly XY[];
  /** False for a place that comes after every other, however good it is. */
  readonly isClear: (at: XY) => boolean;
}

export type SitePart = 'hours' | 'seen' | 'lane';

export interface SitePick {
  readonly at: XY;
  readonly parts: Readonly<Record<SitePart, number>>;
  /** Product of the parts. */
  readonly score: number;
  /** Of the band's places, the share that are worse in each part: why, and why not. */
  readonly betterThan: Readonly<Record<SitePart, number>>;
  /** The share that are better; those alike are in neither. */
  readonly worseThan: Readonly<Record<SitePart, number>>;
  /** The part in which most are better; null where in every part fewer are better than worse. */
  readonly weakest: SitePart | null;
}

/** The band as a small raster of square cells: row-major, row 0 north, NaN outside the band. */
export interface SiteBand {
  readonly width: number;
  readonly height: number;
  readonly west: number;
  readonly north: number;
  readonly cellMeters: number;
  readonly parts: Readonly<Record<SitePart, Float32Array>>;
  /** Product of the parts. */
  readonly score: Float32Array;
}

/** The plot is looked at in places so far apart: 16 m² each. */
const PLOT_STEP_METERS = 4;

/**
 * What speaks for every place in a band round a plot, each part by itself: hours that work, share of
 * the plot seen within range, and the way in. Shares of the plot by places 4 m apart; lines as in
 * `viewshed`.
 * Throws RangeError for a band, step or range that is not above 0, or a plot too small to be seen.
 * Example: on level open ground beside a plot all of it is seen: a part of 1.
 */
export function* siteBand(job: SitingJob): Work<SiteBand> {
  const { nearMeters, farMeters, stepMeters, rangeMeters } = job;
  if (!(farMeters > nearMeters && nearMeters >= 0 && stepMeters > 0 && rangeMeters > 0)) {
    throw new RangeError(`${nearMeters} to ${farMeters} m by ${stepMeters}, range ${rangeMeters}`);
  }
  const cells = plotCells(job);
  if (cells.length === 0) throw new RangeError('a plot of no cell');
  const band = openBand(job);
  const { width, height, west, north, parts, score } = band;
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const x = west + (column + 0.5) * stepMeters;
      const y = north - (row + 0.5) * stepMeters;
      if (!isInBand(job, [x, y]) || !job.isAllowed(x, y)) continue;
      const seen = seenFrom(job, x, y, cells);
      if (seen === null) continue;
      const at = row * width + column;
      parts.seen[at] = seen;
      parts.hours[at] = share(job.hoursShareAt(x, y));
      parts.lane[at] = share(job.laneQualityAt(x, y));
      score[at] = parts.seen[at]! * parts.hours[at]! * parts.lane[at]!;
      yield { share: (at + 1) / (width * height), doing: 'where a stand could go' };
    }
  }
  return band;
}

function openBand({ plot, farMeters, stepMeters }: SitingJob): SiteBand {
  const xs = plot.flat().map((p) => p[0]);
  const ys = plot.flat().map((p) => p[1]);
  const west = Math.min(...xs) - farMeters;
  const north = Math.max(...ys) + farMeters;
  const width = Math.ceil((Math.max(...xs) + farMeters - west) / stepMeters);
  const height = Math.ceil((north - Math.min(...ys) + farMeters) / stepMeters);
  const blank = () => new Float32Array(width * height).fill(NaN);
  const parts = { hours: blank(), seen: blank(), lane: blank() };
  return { width, height, west, north, cellMeters: stepMeters, parts, score: blank() };
}

function isInBand({ plot, nearMeters, farMeters }: SitingJob, place: XY): boolean {
  if (isInPolygon(place, plot)) return false;
  let nearest = Infinity;
  for (const ring of plot) {
    ring.forEach((p, i) => {
      nearest = Math.min(nearest, distanceToPiece(place, ring.at(i - 1)!, p));
    });
  }
  return nearest >= nearMeters && nearest <= farMeters;
}

/** Cells of the plot that are looked at: columns and rows, one after the other. */
function plotCells({ ground, plot }: SitingJob): Int32Array {
  const xs = plot.flat().map((p) => p[0]);
  const ys = plot.flat().map((p) => p[1]);
  const found: number[] = [];
  for (let y = Math.max(...ys) - PLOT_STEP_METERS / 2; y > Math.min(...ys); y -= PLOT_STEP_METERS) {
    for (
      let x = Math.min(...xs) + PLOT_STEP_METERS / 2;
      x < Math.max(...xs);
      x += PLOT_STEP_METERS
    ) {
      const cell = cellAt(ground, x, y);
      if (cell < 0 || !isInPolygon([x, y], plot)) continue;
      found.push(cell % ground.width, Math.floor(cell / ground.width));
    }
  }
  return Int32Array.from(found);
}

/** Share of the plot's cells with data that are seen in range; null without ground at the place. */
function seenFrom(job: SitingJob, x: number, y: number, cells: Int32Array): number | null {
  const { ground, eyeMeters, targetMeters, rangeMeters, screens = null } = job;
  const eye = eyeOn(ground, { x, y, eyeMeters: 0, radiusMeters: rangeMeters, screens });
  if (eye === null) return null;
  let [seen, known] = [0, 0];
  for (let i = 0; i < cells.length; i += 2) {
    const [column, row] = [cells[i]!, cells[i + 1]!];
    if (Number.isNaN(ground.data[row * ground.width + column]!)) continue;
    known++;
    const across = (column - eye.column) * ground.cellWidth;
    const down = (row - eye.row) * ground.cellHeight;
    if (across * across + down * down > rangeMeters * rangeMeters) continue;
    if (neededFor(ground, eye, targetMeters, column, row) <= eyeMeters) seen++;
  }
  return known > 0 ? seen / known : 0;
}

/** What is not known counts as nothing. */
function share(value: number): number {
  return value > 0 ? Math.min(1, value) : 0;
}

/** Every place of a band that a stand could go to, frame metres; row by row from the north. */
export function sitePlaces(band: SiteBand): XY[] {
  return Array.from(band.score.keys()).flatMap((i) => (band.score[i]! > 0 ? [placeAt(band, i)] : [])); // prettier-ignore
}

function placeAt({ width, west, north, cellMeters }: SiteBand, i: number): XY {
  const row = Math.floor(i / width);
  return [west + (i - row * width + 0.5) * cellMeters, north - (row + 0.5) * cellMeters];
}

/**
 * The best places of a band by score, those that are clear first; none where every place scores 0.
 * Frame metres. Ties go to the place further north, then west. Throws RangeError for a distance below
 * 0 or fewer than one place.
 */
export function bestSites(band: SiteBand, choice: SiteChoice): SitePick[] {
  const { apartMeters, count, standing, isClear, isOther } = choice;
  if (!(apartMeters >= 0 && count >= 1)) throw new RangeError(`${count} places ${apartMeters} m apart`); // prettier-ignore
  const { parts, score } = band;
  const order = Array.from(score.keys()).filter((i) => score[i]! > 0);
  const clear = new Set(order.filter((i) => isClear(placeAt(band, i))));
  const rank = (i: number) => (clear.has(i) ? 0 : 1);
  order.sort((a, b) => rank(a) - rank(b) || score[b]! - score[a]! || a - b);
  const sorted = Object.fromEntries(
    (Object.keys(parts) as SitePart[]).map((part) => [
      part,
      parts[part].filter((value) => value === value).sort(),
    ]),
  ) as Record<SitePart, Float32Array>;
  const picks: SitePick[] = [];
  for (const i of order) {
    if (picks.length >= count) break;
    const at = placeAt(band, i);
    const isNear = ([x, y]: XY) => Math.hypot(x - at[0], y - at[1]) < apartMeters;
    if (standing.some(isNear) || !picks.every((pick) => isOther(pick.at, at))) continue;
    const values = { hours: parts.hours[i]!, seen: parts.seen[i]!, lane: parts.lane[i]! };
    const betterThan = {
      hours: shareBelow(sorted.hours, values.hours),
      seen: shareBelow(sorted.seen, values.seen),
      lane: shareBelow(sorted.lane, values.lane),
    };
    const worseThan = {
      hours: shareAbove(sorted.hours, values.hours),
      seen: shareAbove(sorted.seen, values.seen),
      lane: shareAbove(sorted.lane, values.lane),
    };
    const weakest = weakestPart(betterThan, worseThan);
    picks.push({ at, parts: values, score: score[i]!, betterThan, worseThan, weakest });
  }
  return picks;
}

/** The part in which the greatest share of places is better; null where that is nowhere the greater part. */
function weakestPart(
  betterThan: SitePick['betterThan'],
  worseThan: SitePick['worseThan'],
): SitePart | null {
  const parts = (Object.keys(worseThan) as SitePart[]).filter(
    (part) => worseThan[part] > betterThan[part],
  );
  return parts.length === 0 ? null : parts.reduce((most, part) => (worseThan[part] > worseThan[most] ? part : most)); // prettier-ignore
}

/** How far two places must lie apart to be two, by themselves or where the plot lies between them. */
export interface PlacesApart {
  readonly meters: number;
  /** For places that lie this many degrees or more apart as seen from the middle of the plot. */
  readonly otherSideMeters: number;
  readonly otherSideDegrees: number;
}

/** Whether two places round a plot (frame metres, as its middle) are far enough apart, or on other sides of it. */
export function areOtherPlaces(a: XY, b: XY, middle: XY, apart: PlacesApart): boolean {
  const meters = Math.hypot(a[0] - b[0], a[1] - b[1]);
  if (meters >= apart.meters) return true;
  const angle = (at: XY) => Math.atan2(at[1] - middle[1], at[0] - middle[0]);
  const turn = Math.abs(((((angle(a) - angle(b)) * 180) / Math.PI + 540) % 360) - 180);
  return meters >= apart.otherSideMeters && turn >= apart.otherSideDegrees;
}

/** Of sorted values, the share that lie above one. */
function shareAbove(sorted: Float32Array, value: number): number {
  const first = sorted.findIndex((one) => one > value);
  return first < 0 ? 0 : (sorted.length - first) / sorted.length;
}

/** Of sorted values, the share that lie below one. */
function shareBelow(sorted: Float32Array, value: number): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return sorted.length > 0 ? low / sorted.length : 0;
}
