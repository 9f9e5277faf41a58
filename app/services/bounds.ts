import { positionsOf } from '../../geo/plan/construct/map-positions.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import type { Bounds } from '../../layers/raster-layers.ts';
import type { Session } from '../store/session.ts';

/** What "the site" spans: the property line, else the ground, else all that is drawn; or nothing. */
export function siteBounds(
  state: Pick<Session, 'features' | 'grounds' | 'settings'>,
): Bounds | null {
  const features = Object.values(state.features);
  const lines = features.filter((f) => f.kind === 'property-line');
  if (lines.length > 0) return boundsOf(lines.flatMap((f) => positionsOf(f.geometry)));
  const ground = state.grounds[state.settings.groundId];
  if (ground) return ground.bounds;
  return boundsOf(features.flatMap((f) => positionsOf(f.geometry)));
}

/** What features span; null for none. */
export function boundsOfFeatures(
  features: readonly Pick<PlanFeature, 'geometry'>[],
): Bounds | null {
  return boundsOf(features.flatMap((feature) => positionsOf(feature.geometry)));
}

/** A third of a mile each way from a place, about: near enough to draw a plot. */
export function around([lng, lat]: readonly [number, number]): Bounds {
  const dLat = 0.005;
  const dLng = dLat / Math.max(0.1, Math.cos((lat * Math.PI) / 180));
  return [lng - dLng, lat - dLat, lng + dLng, lat + dLat];
}

/** True where two bounds share ground. */
export function boundsMeet(a: Bounds, b: Bounds): boolean {
  return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
}

/** Null for no positions; a lone point gets a hundred metres round it. */
function boundsOf(positions: readonly Position[]): Bounds | null {
  if (positions.length === 0) return null;
  let [west, south] = positions[0]!;
  let [east, north] = positions[0]!;
  for (const [lng, lat] of positions) {
    west = Math.min(west, lng);
    east = Math.max(east, lng);
    south = Math.min(south, lat);
    north = Math.max(north, lat);
  }
  const room = east - west + (north - south) === 0 ? 0.001 : 0;
  return [west - room, south - room, east + room, north + room];
}
