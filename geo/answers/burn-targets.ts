import type { ClearanceFrom, ClearanceTarget, Drawn } from '../debris/burn-clearances.ts';
import { bermFootprint, heapFootprint } from '../debris/footprint.ts';
import type { Frame } from '../frame/crs-types.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { Kind } from '../plan/kinds.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { overlay, type Layer } from '../plan/overlay/overlay.ts';
import type { PlaneShape } from '../plan/shape-distance.ts';
import type { Inputs } from './definition.ts';
import { inFrame, ringsInFrame } from './ground-inputs.ts';

/** Kinds of what must not burn. */
export const targetKinds = [
  'structure',
  'power-line',
  'timber-block',
  'plot',
  'clearing',
  'property-line',
] as const satisfies readonly Kind[];

const openedKinds = ['plot', 'clearing', 'timber-block'] as const satisfies readonly Kind[];

/**
 * What a fire must keep away from, in frame metres. Where the site is woods, trees are taken to
 * stand along the edge of all that is opened (plots, clearings and timber blocks that are cleared, as
 * one: no trees stand where a clearing ends inside a plot), besides the timber blocks that stay.
 */
export function burnTargets(inputs: Inputs, frame: Frame): ClearanceTarget[] {
  const drawn = targetKinds.flatMap((kind) =>
    inputs.features(kind).flatMap((feature): ClearanceTarget[] => {
      const from = nameOf(feature);
      const shape = from && shapeOf(feature, frame, from);
      return from && shape ? [{ id: feature.id, from, shape }] : [];
    }),
  );
  const isWoods = inputs.settings.siteCover.startsWith('woods');
  return isWoods ? [...drawn, ...woodsEdges(inputs, frame)] : drawn;
}

/** The edge of what is opened in the woods, each ring named by a feature whose corner it has. */
function woodsEdges(inputs: Inputs, frame: Frame): ClearanceTarget[] {
  const opened = openedKinds.flatMap((kind) =>
    inputs.features(kind).flatMap((feature) => {
      if (isKind(feature, 'timber-block') && feature.properties.standing) return [];
      if (feature.geometry.type !== 'Polygon' || findOutlineFault(feature.geometry.coordinates)) return []; // prettier-ignore
      const rings = ringsInFrame(feature, frame)?.map((ring) => ring.slice(0, -1));
      return rings ? [{ id: feature.id, layer: { rings, rule: 'even-odd' } as Layer }] : [];
    }),
  );
  const layers = opened.map(({ layer }) => layer);
  if (layers.length === 0) return [];
  const parts = overlay(layers, (inside) => inside.some(Boolean));
  const rings = parts.flat().map((ring) => [...ring, ring[0]!]);
  const edges = rings.map((ring): ClearanceTarget => {
    const owner = opened.find(({ layer }) => ring.some((corner) => hasCorner(layer, corner)));
    const shape = { kind: 'line', paths: [ring] } as const;
    return { id: (owner ?? opened[0]!).id, from: 'standing-trees', shape };
  });
  if (rings.length === 0) return [];
  // All that is not opened: what lies there stands in the trees.
  const woods = { kind: 'area', paths: [boxAbout(rings.flat()), ...rings] } as const;
  return [...edges, { id: opened[0]!.id, from: 'standing-trees', shape: woods }];
}

/** Farther than any plan reaches. */
const FAR_METERS = 50_000;

function boxAbout(corners: readonly XY[]): XY[] {
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  const [west, east] = [Math.min(...xs) - FAR_METERS, Math.max(...xs) + FAR_METERS];
  const [south, north] = [Math.min(...ys) - FAR_METERS, Math.max(...ys) + FAR_METERS];
  return [[west, south], [east, south], [east, north], [west, north], [west, south]]; // prettier-ignore
}

/** Overlays are rounded to less than that. */
const SAME_CORNER = 0.001;

function hasCorner({ rings }: Layer, [x, y]: XY): boolean {
  return rings.some((ring) => ring.some(([a, b]) => Math.hypot(a - x, b - y) < SAME_CORNER));
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

function nameOf(feature: PlanFeature): ClearanceFrom | null {
  if (isKind(feature, 'structure')) {
    const { use, ownedBy } = feature.properties;
    if (use === 'road') return 'road';
    if (!buildings.has(use)) return null;
    return ownedBy === 'owner' ? 'own-building' : 'neighbour-dwelling';
  }
  if (feature.kind === 'power-line' || feature.kind === 'property-line') return feature.kind;
  return isKind(feature, 'timber-block') && feature.properties.standing ? 'standing-trees' : null;
}

function shapeOf({ geometry }: PlanFeature, frame: Frame, from: ClearanceFrom) {
  const lines =
    geometry.type === 'Point'
      ? [[geometry.coordinates]]
      : geometry.type === 'LineString'
        ? [geometry.coordinates]
        : geometry.coordinates;
  const paths = lines.map((line) => line.map((position) => inFrame(frame, position)));
  if (paths.flat().includes(null)) return null;
  // A property ends at its line.
  const isEdge = from === 'property-line';
  const shape: PlaneShape['kind'] =
    geometry.type === 'Point' ? 'point' : geometry.type === 'LineString' || isEdge ? 'line' : 'area'; // prettier-ignore
  return { kind: shape, paths: paths as [number, number][][] };
}
