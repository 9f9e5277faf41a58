import type { Work } from '../../work.ts';
import type { RawPart, XY } from './raw-feature.ts';
import { groupRings, type RingBudget } from './shp-rings.ts';
import {
  FETCH_AGAIN,
  takeFeatures,
  takePositions,
  VectorError,
  type Limits,
} from './vector-error.ts';

export interface ShpShapes {
  /** One entry per record, in the order of the table; no part where the shape is null. */
  readonly shapes: readonly (readonly RawPart[])[];
  readonly nullShapes: number;
  readonly looseHoles: number;
  /** The file ends inside a record or its records do not follow one another. */
  readonly isCut: boolean;
}

const FILE_CODE = 9994;
const SHAPES_BETWEEN = 200;
/** Plane, Z and M variants of a type differ by 10 and 20. */
const POINT = 1;
const LINE = 3;
const POLYGON = 5;
const MULTIPOINT = 8;

/**
 * Reads the shapes of a .shp (ESRI Shapefile Technical Description, 1998): points, lines, polygons
 * and multipoints, plain, with Z or with M. Z comes as heights of points and lines, M is passed over.
 * Records are read one after the other; each must lie within the file.
 * Throws VectorError for another kind of file and for multipatches.
 */
export function* readShp(bytes: Uint8Array, file: string, limits: Limits): Work<ShpShapes> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 100 || view.getInt32(0, false) !== FILE_CODE) {
    throw new VectorError('shp-damaged', 'The file is no shapefile.', FETCH_AGAIN, file);
  }
  if (view.getInt32(32, true) === 31) {
    throw new VectorError(
      'shp-multipatch',
      'The shapefile holds three-dimensional surfaces (multipatch).',
      'Export their outlines as polygons.',
      file,
    );
  }
  const budget: RingBudget = { steps: 100_000_000 };
  const shapes: RawPart[][] = [];
  let nullShapes = 0;
  let looseHoles = 0;
  let at = 100;
  while (at + 12 <= bytes.length) {
    const length = 2 * view.getInt32(at + 4, false);
    if (length < 4 || at + 8 + length > bytes.length) break;
    takeFeatures(limits, 1);
    const record = new DataView(bytes.buffer, bytes.byteOffset + at + 8, length);
    const shape = readShape(record, limits, budget);
    if (shape === null) throw damagedShape(shapes.length, file);
    if (shape.parts.length === 0) nullShapes++;
    looseHoles += shape.loose;
    shapes.push(shape.parts);
    at += 8 + length;
    if (shapes.length % SHAPES_BETWEEN === 0) {
      yield { share: at / bytes.length, doing: `Reading ${file}` };
    }
  }
  return { shapes, nullShapes, looseHoles, isCut: at < bytes.length };
}

interface Shape {
  readonly parts: RawPart[];
  readonly loose: number;
}

/** Null where the record contradicts itself. */
function readShape(record: DataView, limits: Limits, budget: RingBudget): Shape | null {
  const type = record.getInt32(0, true);
  if (type === 0) return { parts: [], loose: 0 };
  const plain = type % 10;
  const hasZ = type > 10 && type < 20;
  if (type < 0 || type > 28) return null;
  if (plain === POINT) return pointShape(record, hasZ, limits);
  if (plain === MULTIPOINT) return multipointShape(record, hasZ, limits);
  if (plain === LINE || plain === POLYGON) {
    return partsShape(record, hasZ, plain === POLYGON, limits, budget);
  }
  return null;
}

function pointShape(record: DataView, hasZ: boolean, limits: Limits): Shape | null {
  if (record.byteLength < (hasZ ? 28 : 20)) return null;
  takePositions(limits, 1);
  const rings: XY[][] = [[positionAt(record, 4)]];
  const heights = hasZ ? { heights: [record.getFloat64(20, true)] } : {};
  return { parts: [{ type: 'Point', rings, ...heights }], loose: 0 };
}

function multipointShape(record: DataView, hasZ: boolean, limits: Limits): Shape | null {
  if (record.byteLength < 40) return null;
  const count = record.getInt32(36, true);
  if (count < 0 || 40 + 16 * count > record.byteLength) return null;
  takePositions(limits, count);
  takeFeatures(limits, count);
  const z = 40 + 16 * count + 16;
  if (hasZ && z + 8 * count > record.byteLength) return null;
  const parts = Array.from({ length: count }, (_, i): RawPart => {
    const heights = hasZ ? { heights: [record.getFloat64(z + 8 * i, true)] } : {};
    return { type: 'Point', rings: [[positionAt(record, 40 + 16 * i)]], ...heights };
  });
  return { parts, loose: 0 };
}

function partsShape(
  record: DataView,
  hasZ: boolean,
  isPolygon: boolean,
  limits: Limits,
  budget: RingBudget,
): Shape | null {
  if (record.byteLength < 44) return null;
  const partCount = record.getInt32(36, true);
  const count = record.getInt32(40, true);
  if (partCount < 0 || count < 0) return null;
  const points = 44 + 4 * partCount;
  if (points + 16 * count > record.byteLength) return null;
  const z = points + 16 * count + 16;
  if (hasZ && z + 8 * count > record.byteLength) return null;
  takePositions(limits, count);
  const lines: { readonly points: XY[]; readonly heights: number[] }[] = [];
  for (let p = 0; p < partCount; p++) {
    const from = record.getInt32(44 + 4 * p, true);
    const to = p + 1 < partCount ? record.getInt32(48 + 4 * p, true) : count;
    if (from < 0 || to < from || to > count) return null;
    if (to === from) continue;
    const line: XY[] = [];
    const heights: number[] = [];
    for (let i = from; i < to; i++) {
      line.push(positionAt(record, points + 16 * i));
      if (hasZ && !isPolygon) heights.push(record.getFloat64(z + 8 * i, true));
    }
    lines.push({ points: line, heights });
  }
  if (!isPolygon) {
    const parts = lines.map(({ points: line, heights }): RawPart => {
      return { type: 'LineString', rings: [line], ...(hasZ ? { heights } : {}) };
    });
    return { parts, loose: 0 };
  }
  const grouped = groupRings(
    lines.map((line) => line.points),
    budget,
  );
  if (grouped === null) throw tooManyRings();
  const parts = grouped.polygons.map((rings): RawPart => ({ type: 'Polygon', rings }));
  return { parts, loose: grouped.loose };
}

function tooManyRings(): VectorError {
  return new VectorError(
    'shp-too-many-rings',
    'One of the areas has more outlines and holes than can be sorted.',
    'Split it into single parts, and export it again.',
  );
}

function positionAt(record: DataView, at: number): XY {
  return [record.getFloat64(at, true), record.getFloat64(at + 8, true)];
}

function damagedShape(index: number, file: string): VectorError {
  return new VectorError(
    'shp-damaged',
    `Shape ${index + 1} of the file is damaged.`,
    FETCH_AGAIN,
    file,
  );
}
