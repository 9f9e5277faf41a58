import { kmlCoordinates, trackCoordinate } from './kml-coordinates.ts';
import { parseUtc } from './parse-utc.ts';
import type { RawPart, XY } from './raw-feature.ts';
import { takePositions, type Limits } from './vector-error.ts';

const SHAPES = new Set(['Point', 'LineString', 'LinearRing', 'Polygon', 'Track']);

/** Gathers the geometry of one placemark from its elements as they open and close. */
export interface GeometryGatherer {
  open(tag: string, depth: number): void;
  close(tag: string, text: string, depth: number): void;
  readonly parts: readonly RawPart[];
  readonly hasTrack: boolean;
  /** A shape has been opened and not yet closed. */
  readonly isInside: boolean;
}

interface Shape {
  readonly tag: string;
  readonly depth: number;
  outer: XY[] | null;
  readonly holes: XY[][];
  line: XY[];
  heights: number[];
  times: number[];
  isAbsolute: boolean;
}

/**
 * Point, LineString, LinearRing, Polygon with holes and gx:Track, alone or in any depth of
 * MultiGeometry or gx:MultiTrack, as single parts in their order. Altitudes are kept only where they
 * are heights above the sea (altitudeMode absolute) or belong to a track.
 */
export function gatherGeometry(limits: Limits): GeometryGatherer {
  const parts: RawPart[] = [];
  let hasTrack = false;
  let shape: Shape | null = null;
  let isHole = false;

  const readCoordinates = (text: string) => {
    if (shape === null) return;
    const { positions, heights } = kmlCoordinates(text);
    takePositions(limits, positions.length);
    if (shape.tag !== 'Polygon') [shape.line, shape.heights] = [positions, heights];
    else if (isHole) shape.holes.push(positions);
    else shape.outer ??= positions;
  };
  const finish = () => {
    const part = shape === null ? null : partOf(shape);
    if (part) parts.push(part);
    hasTrack ||= shape?.tag === 'Track';
    shape = null;
  };

  return {
    parts,
    get hasTrack() {
      return hasTrack;
    },
    get isInside() {
      return shape !== null;
    },
    open(tag, depth) {
      if (shape === null && SHAPES.has(tag)) {
        const empty = { holes: [], line: [], heights: [], times: [] };
        shape = { tag, depth, outer: null, isAbsolute: false, ...empty };
        isHole = false;
      } else if (tag === 'innerBoundaryIs') isHole = true;
      else if (tag === 'outerBoundaryIs') isHole = false;
    },
    close(tag, text, depth) {
      if (shape === null) return;
      if (depth === shape.depth) finish();
      else if (tag === 'coordinates') readCoordinates(text);
      else if (tag === 'altitudeMode') shape.isAbsolute = text.trim() === 'absolute';
      else if (shape.tag === 'Track' && depth === shape.depth + 1) {
        if (tag === 'when') shape.times.push(parseUtc(text.trim()));
        else if (tag === 'coord') {
          takePositions(limits, 1);
          const [lng, lat, height] = trackCoordinate(text);
          shape.line.push([lng, lat]);
          shape.heights.push(height);
        }
      }
    },
  };
}

function partOf({ tag, outer, holes, line, heights, times, isAbsolute }: Shape): RawPart | null {
  if (tag === 'Polygon') {
    // Holes without an outline enclose nothing.
    return outer === null || outer.length === 0
      ? null
      : { type: 'Polygon', rings: [outer, ...holes.filter((hole) => hole.length > 0)] };
  }
  if (line.length === 0) return null;
  const isKnown = (tag === 'Track' || isAbsolute) && heights.some((z) => !Number.isNaN(z));
  return {
    type: tag === 'Point' ? 'Point' : 'LineString',
    rings: [tag === 'Point' ? line.slice(0, 1) : line],
    ...(isKnown ? { heights } : {}),
    ...(tag === 'Track' && times.length === line.length ? { timesMs: times } : {}),
  };
}
