import type { Frame } from '../../frame/crs-types.ts';
import { measurePolygon, lineLengthMeters } from '../../frame/geodesic.ts';
import { frameMetersPerGroundMeter, toPlane, toPosition } from '../../plan/construct/plan-plane.ts';
import { simplifyLine, simplifyRings } from '../../plan/construct/simplify.ts';
import type { PlanGeometry, Position } from '../../plan/feature.ts';
import type { XY } from '../../plan/overlay/arrangement.ts';
import type { Work } from '../../work.ts';
import { defaultCleanChoices, type CleanChoices } from './clean-choices.ts';
import { trackAccuracy, type Estimate, type TrackAccuracy } from './track-accuracy.ts';
import { findClosure } from './track-closure.ts';
import { collapseDwells } from './track-dwells.ts';
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
    readonly jitter: number;
  };
  /** What the closing piece bridges; null where the track stays open. */
  readonly closingGapMeters: number | null;
  readonly accuracy: TrackAccuracy;
  /** On the ellipsoid: length of the line, or round the outline. */
  readonly lengthMeters: number;
  /** Area of the outline; it can be off by the way round times the position error, at most. */
  readonly area: { readonly squareMeters: number; readonly errorSquareMeters: Estimate } | null;
}

/**
 * Cleans a walked track in steps: spikes out, knots of standing still taken together, a walked
 * edge closed and its overlap cut off, jitter straightened (Douglas & Peucker). The steps use the
 * likely position error as their yardstick: two of it apart is no spike, one and a half of it is the
 * size of a knot, three of it (or a twelfth of the way round) close a loop.
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
  const ring = loop ? [...walked, walked[0]] : null;
  const tolerance = choices.jitterMeters * scale;
  const thin = ring ? simplifyRings([ring], tolerance)[0] : simplifyLine(walked, tolerance);
  const path = (ring ?? walked).filter((_, i) => thin[i] === 1);
  yield { share: 0.9, doing: 'Cleaning the track' };
  const positions = path.map((p) => toPosition(frame, p));
  const area = ring ? areaOf(positions, accuracy.positionErrorMeters) : null;
  return {
    geometry: ring
      ? { type: 'Polygon', coordinates: [positions] }
      : { type: 'LineString', coordinates: positions },
    before: line.length,
    after: ring ? path.length - 1 : path.length,
    removed: {
      spikes: plane.length - steady.length,
      knots: calm.knots,
      knotFixes: calm.removed,
      overlap: calm.line.length - walked.length,
      jitter: (ring ?? walked).length - path.length,
    },
    closingGapMeters: loop ? loop.gapMeters / scale : null,
    accuracy,
    lengthMeters: lineLengthMeters(positions),
    area,
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

function areaOf(ring: readonly Position[], error: Estimate): CleanedTrack['area'] {
  const { areaSquareMeters, perimeterMeters } = measurePolygon([ring]);
  return {
    squareMeters: areaSquareMeters,
    errorSquareMeters: {
      low: perimeterMeters * error.low,
      likely: perimeterMeters * error.likely,
      high: perimeterMeters * error.high,
    },
  };
}
