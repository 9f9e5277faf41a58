import type { ClearanceFrom, ClearanceTarget, Drawn } from '../debris/burn-clearances.ts';
import { bermFootprint, heapFootprint } from '../debris/footprint.ts';
import type { Frame } from '../frame/crs-types.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { Kind } from '../plan/kinds.ts';
import { overlay } from '../plan/overlay/overlay.ts';
import type { PlaneShape } from '../plan/shape-distance.ts';
import type { Inputs } from './definition.ts';
import { inFrame } from './ground-inputs.ts';

/** Kinds of what must not burn. */
export const targetKinds = [
  'structure',
  'power-line',
  'timber-block',
  'plot',
  'clearing',
  'property-line',
] as const satisfies readonly Kind[];

/**
 * What a fire must keep away from, in frame metres. Where the site is woods, trees are taken to
 * stand along the outlines of plots and clearings, besides the timber blocks that stay.
 */
export function burnTargets(inputs: Inputs, frame: Frame): ClearanceTarget[] {
  const isWoods = inputs.settings.siteCover.startsWith('woods');
  return targetKinds.flatMap((kind) =>
    inputs.features(kind).flatMap((feature): ClearanceTarget[] => {
      const from = nameOf(feature, isWoods);
      const shape = from && shapeOf(feature, frame, from);
      return from && shape ? [{ id: feature.id, from, shape }] : [];
    }),
  );
}

/** The ground under what is to burn; null where it says no size or lies off the frame. */
export function fireShape(feature: PlanFeature, frame: Frame): Drawn | null {
  try {
    const layer = isKind(feature, 'berm')
      ? bermFootprint(feature, frame)
      : isKind(feature, 'heap')
        ? heapFootprint(feature, frame)
        : null;
    if (!layer) return null;
    const paths = overlay([layer], ([inside]) => inside!).flat();
    return paths.length > 0 ? { id: feature.id, shape: { kind: 'area', paths } } : null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

const buildings = new Set(['dwelling', 'cabin', 'barn']);

function nameOf(feature: PlanFeature, isWoods: boolean): ClearanceFrom | null {
  if (isKind(feature, 'structure')) {
    const { use, ownedBy } = feature.properties;
    if (use === 'road') return 'road';
    if (!buildings.has(use)) return null;
    return ownedBy === 'owner' ? 'own-building' : 'neighbour-dwelling';
  }
  if (feature.kind === 'power-line' || feature.kind === 'property-line') return feature.kind;
  if (isKind(feature, 'timber-block')) return feature.properties.standing ? 'standing-trees' : null;
  return isWoods ? 'standing-trees' : null;
}

function shapeOf({ kind, geometry }: PlanFeature, frame: Frame, from: ClearanceFrom) {
  const lines =
    geometry.type === 'Point'
      ? [[geometry.coordinates]]
      : geometry.type === 'LineString'
        ? [geometry.coordinates]
        : geometry.coordinates;
  const paths = lines.map((line) => line.map((position) => inFrame(frame, position)));
  if (paths.flat().includes(null)) return null;
  // Trees stand along the edge of what is open, and a property ends at its line.
  const isEdge = from === 'property-line' || (from === 'standing-trees' && kind !== 'timber-block');
  const shape: PlaneShape['kind'] =
    geometry.type === 'Point' ? 'point' : geometry.type === 'LineString' || isEdge ? 'line' : 'area'; // prettier-ignore
  return { kind: shape, paths: paths as [number, number][][] };
}
