import type { PlanGeometry, Position } from '../../../geo/plan/feature.ts';

export interface NamedCorner {
  readonly at: Position;
  /** "3, northeast" for the outermost ones. */
  readonly words: string;
}

/** More cannot be told apart in a list. */
const MOST = 400;

const sides: readonly (readonly [name: string, east: number, north: number])[] = [
  ['northeast', 1, 1],
  ['southeast', 1, -1],
  ['southwest', -1, -1],
  ['northwest', -1, 1],
];

/** The corners of a line or of an outline's first ring in their order, the outermost ones named. */
export function cornersOf(geometry: PlanGeometry): readonly NamedCorner[] {
  if (geometry.type === 'Point') return [{ at: geometry.coordinates, words: '1' }];
  const places =
    geometry.type === 'LineString'
      ? geometry.coordinates
      : (geometry.coordinates[0] ?? []).slice(0, -1);
  const shrink = Math.cos(((places[0]?.[1] ?? 0) * Math.PI) / 180);
  const names = new Map<number, string[]>();
  for (const [name, east, north] of sides) {
    const reach = ([lng, lat]: Position): number => east * lng * shrink + north * lat;
    let best = 0;
    places.forEach((place, i) => {
      if (reach(place) > reach(places[best]!)) best = i;
    });
    names.set(best, [...(names.get(best) ?? []), name]);
  }
  return places.slice(0, MOST).map((at, i) => {
    const named = names.get(i);
    return { at, words: named ? `${i + 1}, ${named.join(' and ')}` : String(i + 1) };
  });
}
