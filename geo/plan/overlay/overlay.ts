import { arrange, type Arrangement, type Path, type XY } from './arrangement.ts';
import { ringsToPolygons, type PlanePolygon } from './ring-areas.ts';
import { traceRings, type Boundary } from './trace-rings.ts';

/** Rings that together cover some ground, first points repeated or not, in any direction. */
export interface Layer {
  readonly rings: readonly (readonly XY[])[];
  /**
   * `even-odd`: inside is what an odd number of rings enclose, as an outline looks when filled.
   * `positive`: inside is what rings run round counter-clockwise more often than clockwise.
   */
  readonly rule: 'even-odd' | 'positive';
}

/**
 * Polygons of the ground that `isInside` says yes to, asked with one boolean per layer: is it
 * inside that layer. Any boolean operation on any number of layers is one call.
 * Coordinates in metres, x east, y north; the result does not repeat first points, its outer rings
 * run counter-clockwise, holes clockwise, largest polygon first. Exact but for rounding to `unit`.
 * Throws RangeError as `arrange` does.
 * Example: two unit squares half over each other with `([a, b]) => a && b` give the shared half.
 */
export function overlay(
  layers: readonly Layer[],
  isInside: (inside: readonly boolean[]) => boolean,
  unit?: number,
): PlanePolygon[] {
  const arrangement = arrange(pathsOf(layers), layers.length, unit);
  const boundary = boundaryOf(arrangement, layers, isInside);
  return ringsToPolygons(arrangement, traceRings(arrangement, boundary));
}

/**
 * How much of the ground of the first layer each layer takes, in order: `[0]` is what is left,
 * `[k]` what layer k takes of what the layers before it left. Square metres of the plane. The sum
 * is the first layer's whole area, whatever the order and however much the layers overlap.
 * `left` is the ground that remains.
 */
export function shareOut(layers: readonly Layer[]): {
  readonly areas: Float64Array;
  readonly left: PlanePolygon[];
} {
  const arrangement = arrange(pathsOf(layers), layers.length);
  const owner = (inside: readonly boolean[]) => {
    if (!inside[0]) return -1;
    for (let l = 1; l < inside.length; l++) if (inside[l]) return l;
    return 0;
  };
  const areas = new Float64Array(layers.length);
  const { x, y, from, to, unit } = arrangement;
  const half = (unit * unit) / 2;
  eachEdgeSides(arrangement, layers, (edge, leftInside, rightInside) => {
    const onLeft = owner(leftInside);
    const onRight = owner(rightInside);
    if (onLeft === onRight) return;
    const sweep = (x[from[edge]] * y[to[edge]] - x[to[edge]] * y[from[edge]]) * half;
    if (onLeft >= 0) areas[onLeft] += sweep;
    if (onRight >= 0) areas[onRight] -= sweep;
  });
  const boundary = boundaryOf(arrangement, layers, (inside) => owner(inside) === 0);
  return { areas, left: ringsToPolygons(arrangement, traceRings(arrangement, boundary)) };
}

/** Directed edges with the wanted ground on their left and none on their right. */
export function boundaryOf(
  arrangement: Arrangement,
  layers: readonly Pick<Layer, 'rule'>[],
  isInside: (inside: readonly boolean[]) => boolean,
): Boundary {
  const { from, to } = arrangement;
  const out: { from: number[]; to: number[] } = { from: [], to: [] };
  eachEdgeSides(arrangement, layers, (edge, leftInside, rightInside) => {
    const onLeft = isInside(leftInside);
    if (onLeft === isInside(rightInside)) return;
    out.from.push(onLeft ? from[edge] : to[edge]);
    out.to.push(onLeft ? to[edge] : from[edge]);
  });
  return out;
}

/** Calls `visit` for every edge with which layers hold the ground left and right of it. */
export function eachEdgeSides(
  { edges, layers: count, left, right }: Arrangement,
  layers: readonly Pick<Layer, 'rule'>[],
  visit: (edge: number, left: readonly boolean[], right: readonly boolean[]) => void,
): void {
  const onLeft: boolean[] = layers.map(() => false);
  const onRight = [...onLeft];
  for (let edge = 0; edge < edges; edge++) {
    for (let l = 0; l < layers.length; l++) {
      const { rule } = layers[l];
      onLeft[l] = holds(rule, left[edge * count + l]);
      onRight[l] = holds(rule, right[edge * count + l]);
    }
    visit(edge, onLeft, onRight);
  }
}

function holds(rule: Layer['rule'], winding: number): boolean {
  return rule === 'positive' ? winding > 0 : (winding & 1) === 1;
}

function pathsOf(layers: readonly Layer[]): Path[] {
  return layers.flatMap(({ rings }, layer) =>
    rings.map((points) => ({ points, closed: true, layer })),
  );
}
