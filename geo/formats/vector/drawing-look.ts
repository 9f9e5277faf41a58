import { lineLengthMeters, measurePolygon } from '../../frame/geodesic.ts';
import type { PlanGeometry, Position } from '../../plan/feature.ts';
import type { GeometryType } from '../../plan/kinds.ts';
import type { OutlineFault } from '../../plan/outline-faults.ts';
import type { Work } from '../../work.ts';
import { thinShapes, type ThinShape } from './thin-shapes.ts';
import type {
  DroppedColumn,
  FeatureSort,
  OpenedVectors,
  SuggestedKind,
  VectorFeature,
  VectorFormat,
} from './vector-types.ts';

/** West, south, east, north in degrees. */
export type LookBounds = readonly [number, number, number, number];

/** One feature of a drawing as the list before bringing in shows it. */
export interface DrawingItem {
  /** Its place in `items` and in the drawing. */
  readonly index: number;
  /** Its place in `groups`. */
  readonly group: number;
  readonly name: string;
  readonly type: GeometryType;
  readonly sort: FeatureSort;
  readonly part: VectorFeature['part'];
  readonly positions: number;
  /** On the ellipsoid; null for tracks, and for what comes late in a drawing of very many points. */
  readonly areaSquareMeters: number | null;
  readonly lengthMeters: number | null;
  readonly fault: OutlineFault | null;
  readonly suggested: SuggestedKind;
  readonly bounds: LookBounds;
}

/** Features of one file that lie in one layer, folder or section of it. */
export interface DrawingGroup {
  readonly file: string;
  readonly layer: string;
  /** Columns that a name may be taken from. */
  readonly columns: readonly string[];
}

/** What is shown of a drawing before any of it is in the plan: no positions but a thinned picture. */
export interface DrawingLook {
  readonly formats: readonly VectorFormat[];
  readonly files: readonly string[];
  readonly crsName: string;
  readonly notes: readonly string[];
  readonly personalColumns: readonly DroppedColumn[];
  readonly groups: readonly DrawingGroup[];
  readonly items: readonly DrawingItem[];
  readonly bounds: LookBounds;
  /** Null in the places of what there was no room to draw. */
  readonly shapes: readonly (PlanGeometry | null)[];
}

/** Positions that may be measured: about a tenth of a second. */
const MOST_MEASURED = 50_000;
const MOST_COLUMNS = 60;
const ITEMS_BETWEEN = 200;

/** The list and the picture of a drawing that was opened, in the order of its features. */
export function* drawingLook(opened: OpenedVectors): Work<DrawingLook> {
  const groups = new Map<string, { group: DrawingGroup; columns: Set<string>; at: number }>();
  const items: DrawingItem[] = [];
  let budget = MOST_MEASURED;
  for (const feature of opened.features) {
    const key = JSON.stringify([feature.file, feature.layer]);
    let own = groups.get(key);
    if (!own) {
      const columns = new Set<string>();
      const group = { file: feature.file, layer: feature.layer, columns: [] };
      own = { group, columns, at: groups.size };
      groups.set(key, own);
    }
    for (const column of Object.keys(feature.attributes)) {
      if (own.columns.size < MOST_COLUMNS) own.columns.add(column);
    }
    const positions = linesOf(feature.geometry).reduce((sum, line) => sum + line.length, 0);
    if (feature.sort !== 'track') budget -= positions;
    items.push(itemOf(feature, own.at, positions, budget >= 0 && feature.sort !== 'track'));
    if (items.length % ITEMS_BETWEEN === 0) {
      yield { share: (0.5 * items.length) / opened.features.length, doing: 'Listing' };
    }
  }
  const bounds = items.map((item) => item.bounds).reduce(joined);
  const shapes: readonly ThinShape[] = yield* thinShapes(
    opened.features.map((feature) => feature.geometry),
    bounds,
  );
  return {
    formats: opened.formats,
    files: opened.files,
    crsName: opened.crsName,
    notes: opened.notes,
    personalColumns: opened.personalColumns,
    groups: [...groups.values()].map(({ group, columns }) => ({ ...group, columns: [...columns] })),
    items,
    bounds,
    shapes,
  };
}

function itemOf(
  { index, name, geometry, sort, part, fault, suggested }: VectorFeature,
  group: number,
  positions: number,
  isMeasured: boolean,
): DrawingItem {
  const { type } = geometry;
  // One that crosses itself has no area to speak of.
  const isOutline = isMeasured && type === 'Polygon' && fault === null;
  const isLine = isMeasured && type === 'LineString';
  return {
    index,
    group,
    name,
    type,
    sort,
    part,
    positions,
    areaSquareMeters: isOutline ? measurePolygon(geometry.coordinates).areaSquareMeters : null,
    lengthMeters: isLine ? lineLengthMeters(geometry.coordinates) : null,
    fault,
    suggested,
    bounds: boundsOf(geometry),
  };
}

function linesOf(geometry: PlanGeometry): readonly (readonly Position[])[] {
  if (geometry.type === 'Point') return [[geometry.coordinates]];
  return geometry.type === 'LineString' ? [geometry.coordinates] : geometry.coordinates;
}

function boundsOf(geometry: PlanGeometry): LookBounds {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const line of linesOf(geometry)) {
    for (const [lng, lat] of line) {
      if (lng < west) west = lng;
      if (lng > east) east = lng;
      if (lat < south) south = lat;
      if (lat > north) north = lat;
    }
  }
  return [west, south, east, north];
}

function joined(a: LookBounds, b: LookBounds): LookBounds {
  return [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])];
}
