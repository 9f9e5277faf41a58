import type { RawFeature, XY } from './raw-feature.ts';

/** A ground and what belongs to it lie within a degree; two degrees off is another county. */
const NEAR_DEGREES = 1;
const FAR_DEGREES = 2;

/**
 * Why the longitudes and latitudes of a layer look exchanged, null where they do not: nine tenths of
 * its positions have latitudes beyond 90° and would fit exchanged; or they lie far from the ground
 * and exchanged near it; or, with no ground, in the far south and exchanged in North America.
 * Positions in degrees, x first.
 */
export function whySwapped(
  features: readonly RawFeature[],
  near: readonly [number, number] | undefined,
): string | null {
  let total = 0;
  let beyond = 0;
  let offGround = 0;
  let offContinent = 0;
  for (const [x, y] of samplePositions(features)) {
    total++;
    if (Math.abs(y) > 90 && Math.abs(y) <= 180 && Math.abs(x) <= 90) beyond++;
    if (near && away([x, y], near) > FAR_DEGREES && away([y, x], near) < NEAR_DEGREES) offGround++;
    if (y < -60 && !isNorthAmerica(x, y) && isNorthAmerica(y, x)) offContinent++;
  }
  if (total === 0) return null;
  const most = 0.9 * total;
  if (beyond >= most)
    return 'Its latitudes are beyond 90°, so latitude and longitude look exchanged.';
  if (offGround >= most) {
    return 'It lies far from your ground, but beside it with latitude and longitude exchanged.';
  }
  if (!near && offContinent >= most) {
    return 'It lies in the far south, but in North America with latitude and longitude exchanged.';
  }
  return null;
}

/** The same feature with x and y exchanged in every position. */
export function swapFeature(feature: RawFeature): RawFeature {
  return {
    ...feature,
    parts: feature.parts.map((part) => ({
      ...part,
      rings: part.rings.map((ring) => ring.map(([x, y]): XY => [y, x])),
    })),
  };
}

function* samplePositions(features: readonly RawFeature[]): Iterable<XY> {
  for (const { parts } of features) {
    for (const { rings } of parts) {
      for (const ring of rings) {
        const position = ring[ring.length >> 1];
        if (position && Number.isFinite(position[0] + position[1])) yield position;
      }
    }
  }
}

function away([x, y]: XY, [lng, lat]: readonly [number, number]): number {
  return Math.max(Math.abs(x - lng), Math.abs(y - lat));
}

function isNorthAmerica(lng: number, lat: number): boolean {
  return lng > -180 && lng < -50 && lat > 13 && lat < 84;
}
