import type { RawPart, XY } from './raw-feature.ts';
import { takePositions, type Limits } from './vector-error.ts';

const DEEPEST_COLLECTION = 16;

/**
 * Single parts of a GeoJSON geometry in their order. What is no list or no number where one should
 * stand gives positions of NaN, which are told and left out later; geometry that is missing gives
 * no part. Throws VectorError for more positions than the limits allow.
 */
export function geoJsonParts(
  geometry: Readonly<Record<string, unknown>> | null,
  limits: Limits,
  depth = 0,
): RawPart[] {
  if (geometry === null || depth > DEEPEST_COLLECTION) return [];
  const { type, coordinates } = geometry;
  const line = (value: unknown): RawPart => linePart(value, limits);
  const polygon = (value: unknown): RawPart => ({
    type: 'Polygon',
    rings: listOf(value).map((ring) => listOf(ring).map((p) => positionOf(p, limits))),
  });
  switch (type) {
    case 'Point':
      return [pointPart(coordinates, limits)];
    case 'LineString':
      return [line(coordinates)];
    case 'Polygon':
      return [polygon(coordinates)];
    case 'MultiPoint':
      return listOf(coordinates).map((p) => pointPart(p, limits));
    case 'MultiLineString':
      return listOf(coordinates).map(line);
    case 'MultiPolygon':
      return listOf(coordinates).map(polygon);
    case 'GeometryCollection':
      return listOf(geometry.geometries).flatMap((one) =>
        geoJsonParts(isObject(one) ? one : null, limits, depth + 1),
      );
    default:
      return [];
  }
}

function pointPart(value: unknown, limits: Limits): RawPart {
  return withHeights('Point', [positionOf(value, limits)], [value]);
}

function linePart(value: unknown, limits: Limits): RawPart {
  const list = listOf(value);
  return withHeights(
    'LineString',
    list.map((p) => positionOf(p, limits)),
    list,
  );
}

function withHeights(
  type: 'Point' | 'LineString',
  line: XY[],
  values: readonly unknown[],
): RawPart {
  const heights = values.map((value) => numberOf(listOf(value)[2]));
  const isKnown = heights.some((z) => !Number.isNaN(z));
  return { type, rings: [line], ...(isKnown ? { heights } : {}) };
}

function positionOf(value: unknown, limits: Limits): XY {
  takePositions(limits, 1);
  const position = listOf(value);
  return [numberOf(position[0]), numberOf(position[1])];
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

function numberOf(value: unknown): number {
  return typeof value === 'number' ? value : Number.NaN;
}
