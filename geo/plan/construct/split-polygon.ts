import type { Frame } from '../../frame/crs-types.ts';
import { ok, problem, type Result } from '../../result.ts';
import { arrange, type Arrangement, type Path, type XY } from '../overlay/arrangement.ts';
import { eachEdgeSides } from '../overlay/overlay.ts';
import { ringsToPolygons, type PlanePolygon } from '../overlay/ring-areas.ts';
import { traceRings } from '../overlay/trace-rings.ts';
import {
  ringsToPlane,
  toPlane,
  toPlanPolygons,
  type LineGeometry,
  type PolygonGeometry,
} from './plan-plane.ts';

/**
 * Cuts an area along a line into the areas on its sides, largest first. The line may cross it
 * several times, cross holes or itself; ends that hang inside cut nothing. The new edges are the
 * same, corner for corner, on both sides of the cut, and the areas sum to the whole but for
 * rounding to 1e-9 degree. Throws RangeError where the frame has no place for a corner.
 */
export function splitPolygon(
  polygon: PolygonGeometry,
  line: LineGeometry,
  frame: Frame,
): Result<PolygonGeometry[]> {
  const parts = splitInPlane(ringsToPlane(frame, polygon), toPlane(frame, line.coordinates));
  const polygons = toPlanPolygons(frame, parts);
  if (polygons.length > 1) return ok(polygons);
  return problem(
    'split-misses',
    'The line does not cut the area in two.',
    'Draw it right across, from outside the edge to outside the edge.',
  );
}

/** As above in a plane, metres. */
export function splitInPlane(
  rings: readonly (readonly XY[])[],
  line: readonly XY[],
): PlanePolygon[] {
  const paths: Path[] = rings.map((points) => ({ points, closed: true, layer: 0 }));
  paths.push({ points: line, closed: false, layer: 0, weight: 0, tag: 1 });
  const arrangement = arrange(paths, 1);
  const boundary: { from: number[]; to: number[] } = { from: [], to: [] };
  const cuts: number[] = [];
  const { from, to, tag } = arrangement;
  eachEdgeSides(arrangement, [{ rule: 'even-odd' }], (edge, [onLeft], [onRight]) => {
    if (onLeft !== onRight) {
      boundary.from.push(onLeft ? from[edge] : to[edge]);
      boundary.to.push(onLeft ? to[edge] : from[edge]);
    } else if (onLeft && tag[edge] > 0) cuts.push(edge);
  });
  for (const edge of withoutLooseEnds(arrangement, cuts, boundary.from)) {
    boundary.from.push(from[edge], to[edge]);
    boundary.to.push(to[edge], from[edge]);
  }
  return ringsToPolygons(arrangement, traceRings(arrangement, boundary));
}

/** Cuts that lead somewhere: an end that meets neither the outline nor another cut goes. */
function withoutLooseEnds(
  { from, to }: Arrangement,
  cuts: readonly number[],
  outline: readonly number[],
): number[] {
  const degree = new Map<number, number>();
  const count = (v: number, by: number) => degree.set(v, (degree.get(v) ?? 0) + by);
  for (const v of outline) count(v, 2);
  for (const edge of cuts) {
    count(from[edge], 1);
    count(to[edge], 1);
  }
  let kept = [...cuts];
  for (let before = -1; before !== kept.length;) {
    before = kept.length;
    kept = kept.filter((edge) => {
      if (degree.get(from[edge])! > 1 && degree.get(to[edge])! > 1) return true;
      count(from[edge], -1);
      count(to[edge], -1);
      return false;
    });
  }
  return kept;
}
