import { slopeClassLimits } from '../../geo/answers/answers.ts';
import { ink, rgb } from '../palette.ts';

/**
 * Slope classes in one ink: each class is a darker wash, and from 5 % up a closer hatch, so that
 * the classes hold in a black-and-white print. Hatch runs through world pixels: tiles join.
 */
export interface SlopeLook {
  /** Opacity of the wash, 0 to 1. */
  readonly wash: number;
  /** Pixels between hatch lines at 256 pixels a tile; 0 is no hatch. */
  readonly pitch: number;
  /** A second set of lines across the first. */
  readonly crossed: boolean;
}

/** One look per class of `slopeClassLimits`, one more than there are limits. */
export const slopeLooks: readonly SlopeLook[] = [
  { wash: 0, pitch: 0, crossed: false },
  { wash: 0.07, pitch: 0, crossed: false },
  { wash: 0.13, pitch: 14, crossed: false },
  { wash: 0.2, pitch: 8, crossed: false },
  { wash: 0.28, pitch: 8, crossed: true },
  { wash: 0.4, pitch: 5, crossed: true },
];

const hatchOpacity = 0.4;
/** Classes blend over this much slope, so their borders are not stairs. */
const blend = 0.002;

const [red, green, blue] = rgb(ink);

/**
 * Paints one row of slopes (rise over run). `worldX` and `worldY` are the world pixel of the first
 * one; `scale` is the tile's size over 256.
 */
export function paintSlopeRow(
  slopes: Float32Array,
  count: number,
  worldX: number,
  worldY: number,
  scale: number,
  out: Uint8ClampedArray,
  offset: number,
): void {
  for (let p = 0; p < count; p++) {
    const slope = slopes[p];
    if (slope !== slope) continue;
    const k = slopeClass(slope);
    let opacity = lookAt(k, worldX + p, worldY, scale);
    const above = k < slopeClassLimits.length ? slopeClassLimits[k] - slope : Infinity;
    const below = k > 0 ? slope - slopeClassLimits[k - 1] : Infinity;
    if (above < blend) {
      const share = 0.5 - above / (2 * blend);
      opacity += (lookAt(k + 1, worldX + p, worldY, scale) - opacity) * share;
    } else if (below < blend) {
      const share = 0.5 - below / (2 * blend);
      opacity += (lookAt(k - 1, worldX + p, worldY, scale) - opacity) * share;
    }
    const o = offset + p * 4;
    out[o] = red;
    out[o + 1] = green;
    out[o + 2] = blue;
    out[o + 3] = 255 * opacity;
  }
}

/** Class of a slope: a slope on a limit belongs to the class above it. */
export function slopeClass(slope: number): number {
  let k = 0;
  while (k < slopeClassLimits.length && slope >= slopeClassLimits[k]) k++;
  return k;
}

function lookAt(k: number, worldX: number, worldY: number, scale: number): number {
  const { wash, pitch, crossed } = slopeLooks[k];
  if (pitch === 0) return wash;
  let line = coverage(worldX + worldY, pitch * scale, scale);
  if (crossed) line = Math.max(line, coverage(worldX - worldY, pitch * scale, scale));
  return wash + (hatchOpacity - wash * 0.4) * line * (crossed ? 0.7 : 0.8);
}

/** Share of a pixel under a one-pixel-wide diagonal line; `along` is world x plus or minus y. */
function coverage(along: number, pitch: number, scale: number): number {
  const within = ((along % pitch) + pitch) % pitch;
  const away = Math.min(within, pitch - within) / Math.SQRT2;
  return Math.max(0, Math.min(1, 0.5 * scale + 0.5 - away));
}
