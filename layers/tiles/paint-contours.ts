import { contourBrown, rgb } from '../palette.ts';
import { indexContourEvery } from '../../geo/raster/contour-interval.ts';
import type { RowSamples } from './sample-row.ts';

const [red, green, blue] = rgb(contourBrown);

/** Slopes below the first show no contour (the line would be a blot), above the second all of it. */
const faintSlope = 0.0008;
const fullSlope = 0.004;
/** Plain contours fade out where they would run closer than this, and are gone at half of it. */
const closestPixels = 4;

/**
 * Paints contour lines of one row: a pixel is as dark as the line covers it, by its distance from
 * the nearest step along the gradient. `pixelScale` is device pixels per pixel of line width.
 */
export function paintContourRow(
  samples: RowSamples,
  count: number,
  intervalMeters: number,
  metersPerPixel: number,
  pixelScale: number,
  out: Uint8ClampedArray,
  offset: number,
): void {
  const { value, east, north } = samples;
  for (let p = 0; p < count; p++) {
    const height = value[p];
    if (height !== height) continue;
    const slope = Math.sqrt(east[p] * east[p] + north[p] * north[p]);
    if (slope <= faintSlope) continue;
    const step = Math.round(height / intervalMeters);
    const index = step % indexContourEvery === 0;
    const risePerPixel = slope * metersPerPixel;
    const away = Math.abs(height - step * intervalMeters) / risePerPixel;
    const half = (index ? 0.75 : 0.45) * pixelScale;
    const cover = half + 0.5 - away;
    if (cover <= 0) continue;
    let opacity = (index ? 0.8 : 0.55) * Math.min(1, cover);
    opacity *= Math.min(1, (slope - faintSlope) / (fullSlope - faintSlope));
    if (!index) {
      const apart = intervalMeters / risePerPixel / pixelScale;
      opacity *= Math.max(0, Math.min(1, (2 * apart) / closestPixels - 1));
    }
    const o = offset + p * 4;
    out[o] = red;
    out[o + 1] = green;
    out[o + 2] = blue;
    out[o + 3] = 255 * opacity;
  }
}
