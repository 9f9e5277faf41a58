import type { Frame } from './crs-types.ts';
import { frameFor, openFrame } from './open-frame.ts';

const zones = new Map<string, Frame>();

/**
 * The frame of the UTM zone at a place (degrees, WGS84), for what is worked out where there is no
 * ground; opened once. Throws RangeError for a place that is not on the earth.
 */
export function zoneFrame(lng: number, lat: number): Frame {
  const degrees = { epsg: 4326, name: 'WGS 84', kind: 'geographic', datum: 'WGS84' } as const;
  const definition = frameFor({ ...degrees, unit: 'degree', proj: '' }, lng, lat);
  const known = zones.get(definition.proj);
  if (known) return known;
  const frame = openFrame(definition);
  zones.set(definition.proj, frame);
  return frame;
}
