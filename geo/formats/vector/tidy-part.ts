import type { PlanGeometry, Position } from '../../plan/feature.ts';
import type { RawPart, XY } from './raw-feature.ts';
import type { PointData } from './vector-types.ts';

/** What was put right or left out, counted over a layer. */
export interface TidyTally {
  unclosedRings: number;
  repeatedPoints: number;
  strayPoints: number;
  outOfRange: number;
  tooFew: number;
  lostHoles: number;
}

export interface TidyPart {
  readonly geometry: PlanGeometry;
  readonly pointData: PointData | null;
}

export function freshTally(): TidyTally {
  return {
    unclosedRings: 0,
    repeatedPoints: 0,
    strayPoints: 0,
    outOfRange: 0,
    tooFew: 0,
    lostHoles: 0,
  };
}

/**
 * One part as geometry that a plan could hold: unclosed rings closed, a position given twice in a
 * row once (times of a track keep both), holes with no extent left out. Null, and counted, where a
 * coordinate is out of range or too few corners are left; a recorded track loses only the position.
 * Positions are longitude and latitude in degrees.
 */
export function tidyPart(
  part: RawPart,
  heightUnit: PointData['heightUnit'],
  tally: TidyTally,
): TidyPart | null {
  if (part.type === 'Polygon') {
    const geometry = tidyPolygon(part.rings, tally);
    return geometry && { geometry, pointData: null };
  }
  const line = part.rings[0] ?? [];
  const isTrack = part.timesMs !== undefined;
  const kept = new Uint32Array(line.length);
  const coordinates: Position[] = [];
  for (let i = 0; i < line.length; i++) {
    if (!isOnEarth(line[i])) {
      if (isTrack) tally.strayPoints++;
      else {
        tally.outOfRange++;
        return null;
      }
    } else if (!isTrack && coordinates.length > 0 && isSame(line[i], coordinates.at(-1)!)) {
      tally.repeatedPoints++;
    } else {
      kept[coordinates.length] = i;
      coordinates.push(line[i]);
    }
  }
  const pointData = pointDataOf(part, kept.subarray(0, coordinates.length), heightUnit);
  if (part.type === 'Point' && coordinates.length > 0) {
    return { geometry: { type: 'Point', coordinates: coordinates[0] }, pointData };
  }
  if (part.type === 'LineString' && coordinates.some((p) => !isSame(p, coordinates[0]))) {
    return { geometry: { type: 'LineString', coordinates }, pointData };
  }
  tally.tooFew++;
  return null;
}

function tidyPolygon(rings: readonly XY[][], tally: TidyTally): PlanGeometry | null {
  if (!rings.every((ring) => ring.every(isOnEarth))) {
    tally.outOfRange++;
    return null;
  }
  const tidied = rings.map((ring) => tidyRing(ring, tally));
  const [outer, ...holes] = tidied;
  if (!outer) {
    tally.tooFew++;
    return null;
  }
  const kept = holes.filter((hole) => hole !== null);
  tally.lostHoles += holes.length - kept.length;
  return { type: 'Polygon', coordinates: [outer, ...kept] };
}

/** Null where fewer than three different corners are left. */
function tidyRing(ring: readonly XY[], tally: TidyTally): Position[] | null {
  const corners: Position[] = [];
  for (const corner of ring) {
    if (corners.length > 0 && isSame(corner, corners[corners.length - 1])) tally.repeatedPoints++;
    else corners.push(corner);
  }
  const isClosed = corners.length > 1 && isSame(corners[0], corners[corners.length - 1]);
  if ((isClosed ? corners.length - 1 : corners.length) < 3) return null;
  if (!isClosed) {
    tally.unclosedRings++;
    corners.push([...corners[0]]);
  }
  return corners;
}

function pointDataOf(
  { heights, timesMs, hdop }: RawPart,
  kept: Uint32Array,
  heightUnit: PointData['heightUnit'],
): PointData | null {
  if (!heights && !timesMs && !hdop) return null;
  return {
    heights: heights ? pick(heights, kept) : null,
    heightUnit,
    timesMs: timesMs ? pick(timesMs, kept) : null,
    hdop: hdop ? pick(hdop, kept) : null,
  };
}

function pick(list: readonly number[], kept: Uint32Array): Float64Array {
  const picked = new Float64Array(kept.length);
  for (let i = 0; i < kept.length; i++) picked[i] = list[kept[i]] ?? Number.NaN;
  return picked;
}

function isOnEarth([lng, lat]: XY): boolean {
  return Math.abs(lng) <= 180 && Math.abs(lat) <= 90;
}

function isSame(a: XY, b: XY): boolean {
  return a[0] === b[0] && a[1] === b[1];
}
