import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { GeometryType } from '../../geo/plan/kinds.ts';
import type { HelperDrawing } from '../store/shape-state.ts';

export type ShapeChangeName =
  'split' | 'hole' | 'grow' | 'strip' | 'beside' | 'simplify' | 'move' | 'turn';

export interface ShapeChange {
  readonly name: ShapeChangeName;
  readonly label: string;
  readonly how: string;
  /** It leaves the feature itself as it is, so a locked one can have it too. */
  readonly addsOnly: boolean;
}

const changes: Readonly<Record<ShapeChangeName, Omit<ShapeChange, 'name'>>> = {
  split: {
    label: 'Split',
    how: 'Draw a line across it. Each side becomes a part of its own.',
    addsOnly: false,
  },
  hole: {
    label: 'Cut a hole',
    how: 'Draw the ground to take out, inside it or over its edge.',
    addsOnly: false,
  },
  grow: {
    label: 'Grow or shrink',
    how: 'Its edge moves out or in by the same distance all round.',
    addsOnly: false,
  },
  strip: {
    label: 'Ground around',
    how: 'All ground within a distance of it becomes an area.',
    addsOnly: true,
  },
  beside: {
    label: 'Line beside',
    how: 'A second line runs beside it at a distance.',
    addsOnly: true,
  },
  simplify: {
    label: 'Fewer corners',
    how: 'Corners that stray less than this from a straight run are left out.',
    addsOnly: false,
  },
  move: { label: 'Move', how: 'It moves as a whole.', addsOnly: false },
  turn: { label: 'Turn', how: 'It turns about its middle.', addsOnly: false },
};

const byType: Readonly<Record<GeometryType, readonly ShapeChangeName[]>> = {
  Polygon: ['split', 'hole', 'grow', 'strip', 'simplify', 'move', 'turn'],
  LineString: ['strip', 'beside', 'simplify', 'move', 'turn'],
  Point: ['strip', 'move'],
};

/** The changes that suit a feature, in the order of their buttons. */
export function shapeChangesFor({
  geometry,
  locked,
}: Pick<PlanFeature, 'geometry' | 'locked'>): ShapeChange[] {
  return byType[geometry.type]
    .map((name) => ({ name, ...changes[name] }))
    .filter((change) => change.addsOnly || !locked);
}

/** What is said while a cutting shape is drawn. */
export const cutWords: Readonly<Record<'line' | 'hole', HelperDrawing>> = {
  line: {
    type: 'LineString',
    title: 'Cutting line',
    how: 'Tap outside the edge, then across to outside the edge on the other side. Then Finish.',
  },
  hole: {
    type: 'Polygon',
    title: 'Hole',
    how: 'Tap each corner of the ground to take out. Tap the first one again or Finish.',
  },
};
