import { ink, rgb } from '../palette.ts';
import type { RowSamples } from './sample-row.ts';

/**
 * Shaded relief that can lie over paper, tint or photo alike: shade is ink and light is warm white,
 * each only as opaque as it is strong, and level ground is clear.
 */

interface Light {
  /** Toward the light, in grid east and north, times the cosine of its altitude. */
  readonly east: number;
  readonly north: number;
  readonly weight: number;
}

export interface ReliefLights {
  readonly lights: readonly Light[];
}

const altitude = (42 * Math.PI) / 180;
const sine = Math.sin(altitude);
const cosine = Math.cos(altitude);

/** The north-west light carries the shape, two weak ones keep the ridges that run along it. */
const bearings = [
  { degrees: 315, weight: 0.64 },
  { degrees: 15, weight: 0.18 },
  { degrees: 255, weight: 0.18 },
] as const;

/** Lights stand at true bearings; the grid's own north is turned by the meridian convergence. */
export function reliefLights(convergenceDegrees: number): ReliefLights {
  return {
    lights: bearings.map(({ degrees, weight }) => {
      const angle = ((degrees - convergenceDegrees) * Math.PI) / 180;
      return { east: Math.sin(angle) * cosine, north: Math.cos(angle) * cosine, weight };
    }),
  };
}

/** Gentle ground is raised more than steep ground, or a 2 % bench would look like a table. */
const gentleGain = 2.6;
const gentleness = 9;

const [inkRed, inkGreen, inkBlue] = rgb(ink);
const [warmRed, warmGreen, warmBlue] = rgb('#fffbee');

/**
 * Paints one row from the fine gradient and the gradient of the broad shape (same positions).
 * Writes RGBA from byte `offset`; leaves pixels without a number as they are (clear).
 */
export function paintReliefRow(
  fine: RowSamples,
  broad: RowSamples,
  count: number,
  { lights }: ReliefLights,
  out: Uint8ClampedArray,
  offset: number,
): void {
  for (let p = 0; p < count; p++) {
    if (fine.value[p] !== fine.value[p]) continue;
    let light = 0.68 * brightness(fine.east[p], fine.north[p], lights);
    light +=
      broad.value[p] === broad.value[p]
        ? 0.42 * brightness(broad.east[p], broad.north[p], lights)
        : 0;
    const o = offset + p * 4;
    if (light < 0) {
      out[o] = inkRed;
      out[o + 1] = inkGreen;
      out[o + 2] = inkBlue;
      out[o + 3] = 255 * softly(-light * 1.25, 0.66);
    } else {
      out[o] = warmRed;
      out[o + 1] = warmGreen;
      out[o + 2] = warmBlue;
      out[o + 3] = 255 * softly(light * 1.35, 0.6);
    }
  }
}

/** How much brighter than level ground: negative in shade. */
function brightness(east: number, north: number, lights: readonly Light[]): number {
  const steep = Math.sqrt(east * east + north * north);
  const gain = 1 + gentleGain / (1 + gentleness * steep);
  const e = east * gain;
  const n = north * gain;
  const up = 1 / Math.sqrt(1 + e * e + n * n);
  let sum = 0;
  for (const light of lights) {
    const facing = (sine - e * light.east - n * light.north) * up;
    sum += light.weight * (facing > 0 ? facing : 0);
  }
  return sum - sine;
}

/** Rises like `strength` at first and never passes `most`. */
function softly(strength: number, most: number): number {
  return (most * strength) / (most + strength);
}
