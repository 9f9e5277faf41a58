import type { Frame } from '../../frame/crs-types.ts';
import { measurePolygon, lineLengthMeters } from '../../frame/geodesic.ts';
import {
  frameMetersPerGroundMeter,
  toPlane,
  toPlanPolygons,
  toPosition,
} from '../../plan/construct/plan-plane.ts';
import { simplifyLine, simplifyRings } from '../../plan/construct/simplify.ts';
import type { PlanGeometry, Position } from '../../plan/feature.ts';
import type { XY } from '../../plan/overlay/arrangement.ts';
import type { Work } from '../../work.ts';
import { defaultCleanChoices, type CleanChoices } from './clean-choices.ts';
import { trackAccuracy, type Estimate, type TrackAccuracy } from './track-accuracy.ts';
import { findClosure } from './track-closure.ts';
import { collapseDwells } from './track-dwells.ts';
import { withoutSmallLoops } from './track-loops.ts';
import { keepWithoutSpikes } from './track-spikes.ts';
import type { PointData } from './vector-types.ts';

export interface CleanedTrack {
  readonly geometry: PlanGeometry;
  readonly before: number;
  readonly after: number;
  readonly removed: {
    readonly spikes: number;
    readonly knots: number;
    readonly knotFixes: number;
    /** Walked twice at the closing. */
    readonly overlap: number;
    /** Loops and gaps narrower than the position error, where the walk crossed itself. */
    readonly loops: number;
    readonly jitter: number;
  };
  /** Whether a closed outline still crosses itself, by more than the position error. */
  readonly crossesItself: boolean;
  /** What the closing piece bridges; null where the track stays open. */
  readonly closingGapMeters: number | null;
  readonly accuracy: TrackAccuracy;
  /** On the ellipsoid: length of the line, or round the outline. */
  readonly lengthMeters: number;
  /** Area of the outline; it can be off by the way round times the position error, at most. */
  readonly area: { readonly squareMeters: number; readonly errorSquareMeters: Estimate } | null;
}

const LONG_WALK = 20_000;

/**
 * Cleans a walked track in steps: spikes out, knots of standing still taken together, a walked
 * edge closed and its overlap cut off, the small loops of an outline that crosses itself taken out,
 * jitter straightened (Douglas & Peucker). The steps use the likely position error as their
 * yardstick: two of it apart is no spike, one and a half of it is the size of a knot, three of it (or
 * a twelfth of the way round) close a walk, a loop narrower than it is none.
 * Throws RangeError for a line of fewer than two positions or a jitter that is no width.
 */
export function* cleanTrack(
  line: readonly Position[],
  data: Pick<PointData, 'timesMs' | 'hdop'> | null,
  frame: Frame,
  choices: CleanChoices = defaultCleanChoices,
): Work<CleanedTrack> {
  if (line.length < 2) throw new RangeError(`a track of ${line.length} positions`);
  if (!(choices.jitterMeters >= 0 && choices.jitterMeters < 1000)) {
    throw new RangeError(`a jitter of ${choices.jitterMeters} m`);
  }
  const accuracy = trackAccuracy(data?.hdop ?? null, choices.sky);
  const plane = toPlane(frame, line);
  yield { share: 0.3, doing: 'Cleaning the track' };
  const scale = frameMetersPerGroundMeter(frame, plane[0]);
  const error = accuracy.positionErrorMeters.likely * scale;
  const times = data?.timesMs ?? null;
  const keep = keepWithoutSpikes(plane, times, { slackMeters: 2 * error });
  const steady = plane.filter((_, i) => keep[i] === 1);
  const steadyTimes = times && times.filter((_, i) => keep[i] === 1);
  yield { share: 0.5, doing: 'Cleaning the track' };
  const calm = collapseDwells(steady, steadyTimes, 1.5 * error);
  yield { share: 0.6, doing: 'Cleaning the track' };
  const loop = loopOf(calm.line, error, choices.close);
  const walked = loop ? calm.line.slice(loop.from, loop.to + 1) : calm.line;
  const tolerance = choices.jitterMeters * scale;
  const common = {
    before: line.length,
    closingGapMeters: loop ? loop.gapMeters / scale : null,
    accuracy,
  };
  const removed = {
    spikes: plane.length - steady.length,
    knots: calm.knots,
    knotFixes: calm.removed,
    overlap: calm.line.length - walked.length,
  };
  if (!loop) {
    const thin = simplifyLine(walked, tolerance);
    const positions = walked.filter((_, i) => thin[i] === 1).map((p) => toPosition(frame, p));
    return {
      ...common,
      geometry: { type: 'LineString', coordinates: positions },
      after: positions.length,
      removed: { ...removed, loops: 0, jitter: walked.length - positions.length },
      crossesItself: false,
      lengthMeters: lineLengthMeters(positions),
      area: null,
    };
  }
  const round = [...walked, walked[0]];
  // A very long walk is straightened by half before its crossings are looked for, and by half after.
  const isLong = round.length > LONG_WALK;
  const rough = isLong ? simplifyLine(round, tolerance / 2) : null;
  const ring = rough ? round.filter((_, i) => rough[i] === 1) : round;
  const { rings, loops, isSimple } = withoutSmallLoops(ring, error);
  yield { share: 0.8, doing: 'Cleaning the track' };
  const thins = simplifyRings(rings, isLong ? tolerance / 2 : tolerance);
  const paths = rings.map((ring, r) => ring.filter((_, i) => thins[r][i] === 1));
  yield { share: 0.9, doing: 'Cleaning the track' };
  // Crossings lie where no fix does, and rounding to degrees must not make them meet again.
  const sound = loops > 0 ? toPlanPolygons(frame, [paths.map((p) => p.slice(0, -1))])[0] : null;
  const coordinates = sound?.coordinates ?? paths.map((p) => p.map((q) => toPosition(frame, q)));
  const corners = (all: readonly (readonly unknown[])[]) =>
    all.reduce((sum, ring) => sum + ring.length - 1, 0);
  return {
    ...common,
    geometry: { type: 'Polygon', coordinates },
    after: corners(coordinates),
    removed: {
      ...removed,
      loops,
      jitter: round.length - ring.length + corners(rings) - corners(paths),
    },
    crossesItself: !isSimple,
    lengthMeters: lineLengthMeters(coordinates[0]),
    area: areaOf(coordinates, accuracy.positionErrorMeters),
  };
}

function loopOf(line: readonly XY[], error: number, close: boolean | 'auto') {
  if (close === false) return null;
  const closure = findClosure(line);
  if (closure === null || close === true) return closure;
  let length = 0;
  for (let i = closure.from + 1; i <= closure.to; i++) {
    length += Math.hypot(line[i][0] - line[i - 1][0], line[i][1] - line[i - 1][1]);
  }
  // A walk out and back by the same way comes back too, but encloses nothing wider than its error.
  const isWide = enclosed(line.slice(closure.from, closure.to + 1)) > length * error * 0.5;
  return isWide && closure.gapMeters <= Math.max(3 * error, length / 12) ? closure : null;
}

/** Area within a line and its closing piece, square metres of the plane. */
function enclosed(line: readonly XY[]): number {
  let twice = 0;
  for (let i = 1; i + 1 < line.length; i++) {
    const [ox, oy] = line[0];
    twice += (line[i][0] - ox) * (line[i + 1][1] - oy) - (line[i + 1][0] - ox) * (line[i][1] - oy);
  }
  return Math.abs(twice / 2);
}

function areaOf(rings: readonly (readonly Position[])[], error: Estimate): CleanedTrack['area'] {
  const { areaSquareMeters, perimeterMeters } = measurePolygon(rings);
  return {
    squareMeters: areaSquareMeters,
    errorSquareMeters: {
      low: perimeterMeters * error.low,
      likely: perimeterMeters * error.likely,
      high: perimeterMeters * error.high,
    },
  };
}
