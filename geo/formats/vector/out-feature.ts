import type { PlanFeature, PlanGeometry, Position } from '../../plan/feature.ts';
import type { PointData, VectorFeature } from './vector-types.ts';

/** One feature on its way into a file, whatever it came from. */
export interface OutFeature {
  readonly name: string;
  readonly description: string;
  /** Folder, or what the features of one kind are put under. */
  readonly layer: string;
  readonly geometry: PlanGeometry;
  /** Plain values; lists and objects only from our own properties. */
  readonly attributes: Readonly<Record<string, unknown>>;
  readonly pointData: PointData | null;
}

/** Plan features as they are written: the kind and every property that is known, by its own name. */
export function outFromPlan(features: readonly PlanFeature[]): OutFeature[] {
  return features.map(({ kind, name, geometry, properties }) => ({
    name,
    description: kind === 'note' ? (properties as { text: string }).text : '',
    layer: kind,
    geometry,
    attributes: { kind, ...known(properties) },
    pointData: null,
  }));
}

/** Features of a file as they are written again, with all that was read of them. */
export function outFromVectors(features: readonly VectorFeature[]): OutFeature[] {
  return features.map(({ name, description, layer, geometry, attributes, pointData }) => {
    return { name, description, layer, geometry, attributes, pointData };
  });
}

function known(properties: object): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(properties).filter(([, value]) => value !== null && value !== ''),
  );
}

/** An attribute as a number or text; lists and objects as JSON. */
export function plainAttribute(value: unknown): string | number {
  if (typeof value === 'number' && Number.isFinite(value)) return value;
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}

/**
 * Rings of a polygon with the outline turned one way and the holes the other.
 * @param isOuterLeft true: outline counter-clockwise (RFC 7946, KML); false: clockwise (shapefile)
 */
export function turnRings(
  rings: readonly (readonly Position[])[],
  isOuterLeft: boolean,
): (readonly Position[])[] {
  return rings.map((ring, i) => {
    const area = signedArea(ring);
    // A ring without area has no way round; turned at every writing it would never be the same.
    if (area === 0) return ring;
    return area > 0 === (i === 0 ? isOuterLeft : !isOuterLeft) ? ring : [...ring].reverse();
  });
}

/** Above 0 where the ring runs counter-clockwise, in degrees. */
function signedArea(ring: readonly Position[]): number {
  const [ox, oy] = ring[0] ?? [0, 0];
  let twice = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[i + 1];
    twice += (ax - ox) * (by - oy) - (bx - ox) * (ay - oy);
  }
  return twice / 2;
}

/** A name for a feature that has none, so that devices which need one have it. */
export function nameOr(feature: OutFeature, index: number): string {
  return feature.name === '' ? `${feature.layer || 'feature'} ${index + 1}` : feature.name;
}
