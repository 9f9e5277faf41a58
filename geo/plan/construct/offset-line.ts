import type { Frame } from '../../frame/crs-types.ts';
import { ok, problem, type Result } from '../../result.ts';
import { arrange, placeOf, type Arrangement, type Path, type XY } from '../overlay/arrangement.ts';
import { boundaryOf, type Layer } from '../overlay/overlay.ts';
import { rawOffset, roundEnd } from '../overlay/raw-offset.ts';
import { turn } from '../overlay/turn.ts';
import { bufferChordErrorMeters, withoutRepeats } from './buffer.ts';
import { frameMetersPerGroundMeter, toPlane, toPosition, type LineGeometry } from './plan-plane.ts';

/** Outer corners run out to a point; past this many distances from the corner it is cut square. */
const mitreLimit = 2.5;

/**
 * The line that runs beside a line, a distance in metres on the ground to its left or right, in the
 * same direction: corners mitred, no loops. Where the line bends tighter than the distance, or
 * comes back within it, the part that would lie nearer than the distance is left out, and the
 * result may fall into several lines, in order along the source.
 * Method: the outline of all ground within the distance (mitred on the side wanted) never crosses
 * itself; its part on that side is the line. Throws RangeError for a distance not above 0.
 * Example: an L of 20 m and 20 m, 5 m to its inside, gives an L of 15 m and 15 m.
 */
export function offsetLine(
  line: LineGeometry,
  distanceMeters: number,
  side: 'left' | 'right',
  frame: Frame,
): Result<LineGeometry[]> {
  if (!(distanceMeters > 0)) throw new RangeError(`an offset of ${distanceMeters} m`);
  const plane = toPlane(frame, line.coordinates);
  const distance = distanceMeters * frameMetersPerGroundMeter(frame, plane[0]);
  const lines = offsetInPlane(plane, distance, side).map((part): LineGeometry => ({
    type: 'LineString',
    coordinates: withoutRepeatedPositions(part.map((p) => toPosition(frame, p))),
  }));
  const whole = lines.filter((l) => l.coordinates.length > 1);
  if (whole.length > 0) return ok(whole);
  return problem(
    'offset-gone',
    'No line is left: this one bends tighter than that distance.',
    'Take a smaller distance, or the other side.',
  );
}

/** As above in a plane, metres. Example: (0,0)(10,0), 2 to the left, gives (0,2)(10,2). */
export function offsetInPlane(
  line: readonly XY[],
  distance: number,
  side: 'left' | 'right',
): XY[][] {
  const clean = withoutRepeats(line);
  if (clean.length < 2) return [];
  // Walked so that the wanted side is on the right.
  const there = side === 'right' ? clean : [...clean].reverse();
  const back = [...there].reverse();
  const error = bufferChordErrorMeters;
  const beside = rawOffset(there, distance, false, { join: 'mitre', limit: mitreLimit });
  const rest = [
    beside[beside.length - 1],
    ...roundEnd(back[1], back[0], distance, error),
    ...rawOffset(back, distance, false, { join: 'round', chordErrorMeters: error }),
    ...roundEnd(there[1], there[0], distance, error),
    beside[0],
  ];
  const paths: Path[] = [
    // The tag counts pieces, so that parts can be put in order along the line.
    ...beside.slice(1).map((to, i) => ({
      points: [beside[i], to],
      closed: false,
      layer: 0,
      tag: i + 1,
    })),
    { points: rest, closed: false, layer: 0 },
  ];
  const arrangement = arrange(paths, 1);
  const parts = chains(arrangement).map((vertices) =>
    vertices.map((v): XY => placeOf(arrangement, v)),
  );
  return side === 'right' ? parts : parts.reverse().map((part) => part.reverse());
}

/** Runs of tagged edges on the outline, in the order of their tags. */
function chains(arrangement: Arrangement): number[][] {
  const layer: Pick<Layer, 'rule'> = { rule: 'positive' };
  const { from, to } = boundaryOf(arrangement, [layer], ([inside]) => inside);
  const tags = tagByEdge(arrangement);
  const next = new Map<number, { to: number; tag: number }>();
  const reached = new Set<number>();
  from.forEach((v, i) => {
    const tag = tags.get(edgeKey(v, to[i])) ?? 0;
    if (tag === 0) return;
    // Two parts that touch at a vertex go on in the order of the line.
    const other = next.get(v);
    if (!other || other.tag > tag) next.set(v, { to: to[i], tag });
    reached.add(to[i]);
  });
  const starts = [...next.keys()].filter((v) => !reached.has(v));
  starts.sort((p, q) => next.get(p)!.tag - next.get(q)!.tag);
  return starts.map((start) => {
    const chain = [start];
    for (let way = next.get(start); way; way = next.get(way.to)) {
      chain.push(way.to);
      if (chain.length > from.length + 1) break;
    }
    return withoutCrossings(arrangement, chain);
  });
}

function tagByEdge({ edges, from, to, tag }: Arrangement): Map<number, number> {
  const tags = new Map<number, number>();
  for (let e = 0; e < edges; e++) if (tag[e] > 0) tags.set(edgeKey(from[e], to[e]), tag[e]);
  return tags;
}

function edgeKey(u: number, v: number): number {
  return Math.min(u, v) * 2 ** 26 + Math.max(u, v);
}

/** Leaves out vertices where another line merely crossed or touched a straight run. */
function withoutCrossings({ x, y, isCorner }: Arrangement, chain: readonly number[]): number[] {
  return chain.filter((v, i) => {
    if (i === 0 || i === chain.length - 1 || isCorner[v] === 1) return true;
    const [u, w] = [chain[i - 1], chain[i + 1]];
    const off = Math.abs(turn(x[u], y[u], x[v], y[v], x[w], y[w]));
    return off > 2 * (Math.abs(x[w] - x[u]) + Math.abs(y[w] - y[u]));
  });
}

function withoutRepeatedPositions(line: [number, number][]): [number, number][] {
  return line.filter((p, i) => i === 0 || p[0] !== line[i - 1][0] || p[1] !== line[i - 1][1]);
}
