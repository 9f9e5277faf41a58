import { measurePolygon } from '../../../geo/frame/geodesic.ts';
import { readCourses, type ReadCourse } from '../../../geo/plan/construct/survey-calls.ts';
import { findSlips, type Slip } from '../../../geo/plan/construct/traverse-slip.ts';
import {
  balanceTraverse,
  drawTraverse,
  placeTraverse,
  runTraverse,
  type Traverse,
} from '../../../geo/plan/construct/traverse.ts';
import type { Position } from '../../../geo/plan/feature.ts';
import type { DeedDraft } from '../../store/deed.ts';
import { noMissMeters } from '../../words/deed-words.ts';
import type { BoundsShape } from '../services.ts';

/** What the calls of a deed come to as far as they can be read. */
export interface DeedFigure {
  readonly courses: readonly ReadCourse[];
  /** Of the courses before the first that cannot be read; null for none. */
  readonly traverse: Traverse | null;
  /** Courses that it holds. */
  readonly count: number;
  /** Course, from 0, that cannot be read and stops the figure. */
  readonly stopsAt: number | null;
  /** Single courses that would close a poor figure if they read otherwise. */
  readonly slips: readonly Slip[];
  /** On the map, from the point of beginning: an outline, or a line as long as it is none. */
  readonly shape: BoundsShape | null;
}

/** Below this the miss asks where it comes from. */
const poor = 1000;

export function deedFigure({
  text,
  start,
  northDegrees,
  closes,
}: Pick<DeedDraft, 'text' | 'start' | 'northDegrees' | 'closes'>): DeedFigure {
  const courses = readCourses(text);
  const read = courses.filter((course) => course.read !== null);
  const stop = read.findIndex((course) => !course.read!.ok);
  const calls = read.slice(0, stop < 0 ? undefined : stop).flatMap((course) => {
    return course.read?.ok ? [course.read.value] : [];
  });
  const base = { courses, count: calls.length, stopsAt: stop < 0 ? null : stop };
  if (calls.length === 0) return { ...base, traverse: null, slips: [], shape: null };
  const traverse = runTraverse(calls);
  const isPoor = calls.length > 2 && traverse.closure.ratio < poor;
  const corners = closes === 'balanced' && calls.length > 2 ? balanceTraverse(traverse.corners) : traverse.corners; // prettier-ignore
  return {
    ...base,
    traverse,
    slips: isPoor && stop < 0 ? findSlips(calls) : [],
    shape: start && shapeOf(placeTraverse(drawTraverse(corners, calls), start, northDegrees), calls.length, traverse), // prettier-ignore
  };
}

function shapeOf(placed: Position[], count: number, traverse: Traverse): BoundsShape {
  const [first] = placed;
  // The corner that the last course sets is a corner of its own where it misses the first.
  const [x, y] = placed[placed.length - 1];
  const meets =
    traverse.closure.distanceMeters < noMissMeters || Math.hypot(x - first[0], y - first[1]) < 1e-8;
  const ring = [...(meets ? placed.slice(0, -1) : placed), first];
  if (ring.length < 4 || !(meets || count > 2)) {
    return {
      kind: 'section-line',
      geometry: { type: 'LineString', coordinates: placed },
      areaSquareMeters: null,
      lengthMeters: traverse.perimeterMeters,
      corners: placed.length,
    };
  }
  return {
    kind: 'property-line',
    geometry: { type: 'Polygon', coordinates: [ring] },
    areaSquareMeters: measurePolygon([ring]).areaSquareMeters,
    lengthMeters: null,
    corners: ring.length - 1,
  };
}
