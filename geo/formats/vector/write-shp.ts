import type { PlanGeometry, Position } from '../../plan/feature.ts';
import { turnRings } from './out-feature.ts';

const SHAPE_TYPES = { Point: 1, LineString: 3, Polygon: 5 } as const;

/**
 * The shapes of one geometry type and their index (ESRI Shapefile Technical Description, 1998):
 * outlines clockwise, holes counter-clockwise, no Z and no M.
 * Throws RangeError for a geometry of another type.
 */
export function writeShp(
  type: PlanGeometry['type'],
  geometries: readonly PlanGeometry[],
): { shp: Uint8Array; shx: Uint8Array } {
  const records = geometries.map((geometry) => {
    if (geometry.type !== type) throw new RangeError(`a ${geometry.type} among ${type}s`);
    return recordOf(geometry);
  });
  const size = records.reduce((sum, record) => sum + 8 + record.length, 100);
  const shp = new Uint8Array(size);
  const shx = new Uint8Array(100 + 8 * records.length);
  const bounds = boundsOf(geometries.flatMap(linesOf));
  writeHeader(shp, type, bounds);
  writeHeader(shx, type, bounds);
  const view = new DataView(shp.buffer);
  const index = new DataView(shx.buffer);
  let at = 100;
  records.forEach((record, i) => {
    // Offsets and lengths count words of two bytes, big-endian.
    index.setInt32(100 + 8 * i, at / 2, false);
    index.setInt32(104 + 8 * i, record.length / 2, false);
    view.setInt32(at, i + 1, false);
    view.setInt32(at + 4, record.length / 2, false);
    shp.set(record, at + 8);
    at += 8 + record.length;
  });
  return { shp, shx };
}

function writeHeader(bytes: Uint8Array, type: PlanGeometry['type'], bounds: Bounds): void {
  const view = new DataView(bytes.buffer);
  view.setInt32(0, 9994, false);
  view.setInt32(24, bytes.length / 2, false);
  view.setInt32(28, 1000, true);
  view.setInt32(32, SHAPE_TYPES[type], true);
  writeBounds(view, 36, bounds);
}

function recordOf(geometry: PlanGeometry): Uint8Array {
  const lines = linesOf(geometry);
  if (geometry.type === 'Point') {
    const bytes = new Uint8Array(20);
    const view = new DataView(bytes.buffer);
    view.setInt32(0, SHAPE_TYPES.Point, true);
    writePosition(view, 4, geometry.coordinates);
    return bytes;
  }
  const count = lines.reduce((sum, line) => sum + line.length, 0);
  const points = 44 + 4 * lines.length;
  const bytes = new Uint8Array(points + 16 * count);
  const view = new DataView(bytes.buffer);
  view.setInt32(0, SHAPE_TYPES[geometry.type], true);
  writeBounds(view, 4, boundsOf(lines));
  view.setInt32(36, lines.length, true);
  view.setInt32(40, count, true);
  let index = 0;
  lines.forEach((line, part) => {
    view.setInt32(44 + 4 * part, index, true);
    for (const position of line) {
      writePosition(view, points + 16 * index, position);
      index++;
    }
  });
  return bytes;
}

function linesOf(geometry: PlanGeometry): (readonly Position[])[] {
  if (geometry.type === 'Point') return [[geometry.coordinates]];
  if (geometry.type === 'LineString') return [geometry.coordinates];
  return turnRings(geometry.coordinates, false);
}

type Bounds = readonly [number, number, number, number];

function boundsOf(lines: readonly (readonly Position[])[]): Bounds {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const line of lines) {
    for (const [x, y] of line) {
      west = Math.min(west, x);
      south = Math.min(south, y);
      east = Math.max(east, x);
      north = Math.max(north, y);
    }
  }
  return west > east ? [0, 0, 0, 0] : [west, south, east, north];
}

function writeBounds(view: DataView, at: number, bounds: Bounds): void {
  bounds.forEach((value, i) => view.setFloat64(at + 8 * i, value, true));
}

function writePosition(view: DataView, at: number, [x, y]: Position): void {
  view.setFloat64(at, x, true);
  view.setFloat64(at + 8, y, true);
}
