import { ink, rgb } from '../palette.ts';
import type { RowSamples } from './sample-row.ts';

/**
 * Shaded relief that can lie over paper, tint or photo alike: shade is ink and light is warm white,
 * each only as opaque as it is strong, and level ground is clear.
 */

/** Toward the light, in grid east and north, times the cosine of its altitude. */
export interface ReliefLight {
  readonly east: number;
  readonly north: number;
}

const altitude = (45 * Math.PI) / 180;
const sine = Math.sin(altitude);

/** The light stands true north-west; grid north is turned from true by the convergence. */
export function reliefLight(convergenceDegrees: number): ReliefLight {
  const angle = ((315 - convergenceDegrees) * Math.PI) / 180;
  return {
    east: Math.sin(angle) * Math.cos(altitude),
    north: Math.cos(angle) * Math.cos(altitude),
  };
}

/** Gentle ground is raised more than steep ground, or a 2 % bench would look like a table. */
const gentleGain = 2;
const gentleness = 8;

const [inkRed, inkGreen, inkBlue] = rgb(ink);
const [warmRed, warmGreen, warmBlue] = rgb('#fffbee');

/** The broad shape is sampled once in so many pixels and run straight in between. */
export const broadStride = 4;

/** How many broad samples a row takes: one each `broadStride` pixels and one past the end. */
export function broadCount(pixels: number): number {
  return Math.ceil((pixels - 1) / broadStride) + 1;
}

/**
 * Brightness against level ground for each broad sample into `out`; 0 where there is no number.
 */
export function broadBrightness(
  broad: RowSamples,
  samples: number,
  light: ReliefLight,
  out: Float32Array,
): void {
  for (let k = 0; k < samples; k++) {
    out[k] =
      broad.value[k] === broad.value[k]
        ? brightness(broad.east[k], broad.north[k], light.east, light.north)
        : 0;
  }
}

/**
 * Paints one row from the fine gradient of each pixel and the broad brightness of every fourth.
 * Writes RGBA from byte `offset`; leaves pixels without a number as they are (clear).
 */
export function paintReliefRow(
  fine: RowSamples,
  broad: Float32Array,
  count: number,
  light: ReliefLight,
  out: Uint8ClampedArray,
  offset: number,
): void {
  const { value, east, north } = fine;
  for (let p = 0; p < count; p++) {
    if (value[p] !== value[p]) continue;
    const k = (p / broadStride) | 0;
    const wide = broad[k] + ((broad[k + 1] - broad[k]) * (p - k * broadStride)) / broadStride;
    const near = brightness(east[p], north[p], light.east, light.north);
    const bright = 0.66 * near + 0.44 * wide;
    const o = offset + p * 4;
    if (bright < 0) {
      out[o] = inkRed;
      out[o + 1] = inkGreen;
      out[o + 2] = inkBlue;
      out[o + 3] = 255 * softly(-bright * 1.3, 0.68);
    } else {
      out[o] = warmRed;
      out[o + 1] = warmGreen;
      out[o + 2] = warmBlue;
      out[o + 3] = 255 * softly(bright * 1.5, 0.62);
    }
  }
}

/** How much brighter than level ground: negative in shade. */
function brightness(east: number, north: number, lightEast: number, lightNorth: number): number {
  const gain = 1 + gentleGain / (1 + gentleness * Math.sqrt(east * east + north * north));
  const e = east * gain;
  const n = north * gain;
  return (sine - e * lightEast - n * lightNorth) / Math.sqrt(1 + e * e + n * n) - sine;
}

/** Rises like `strength` at first and never passes `most`. */
function softly(strength: number, most: number): number {
  return (most * strength) / (most + strength);
}
