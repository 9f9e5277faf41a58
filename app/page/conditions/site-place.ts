import type { Position } from '../../../geo/plan/feature.ts';
import type { Session } from '../../store/session.ts';

/** Where the site is, for the sun: [longitude, latitude] of something on it, or null. */
export function sitePlace(state: Session): Position | null {
  const first = Object.values(state.features)[0];
  if (first) {
    const { geometry } = first;
    if (geometry.type === 'Point') return geometry.coordinates;
    if (geometry.type === 'LineString') return geometry.coordinates[0] ?? null;
    return geometry.coordinates[0]?.[0] ?? null;
  }
  const photo = state.photos[state.settings.photoId];
  if (photo) {
    const [west, south, east, north] = photo.bounds;
    return [(west + east) / 2, (south + north) / 2];
  }
  const spot = state.site.lowSpots?.value.lowSpots[0];
  return spot ? [spot.deepestAt[0], spot.deepestAt[1]] : null;
}
