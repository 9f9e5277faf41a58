import type { RawElevation } from './geotiff/read-elevation.ts';

/**
 * A grey picture of heights for choosing a part of a survey: low ground dark, high ground light,
 * with slopes facing north-west lit. RGBA, row-major from the first row; no data is clear. Only
 * for the eye: no answer reads it.
 */
export function overviewPicture(
  raw: Pick<RawElevation, 'width' | 'height' | 'data'>,
): Uint8ClampedArray {
  const { width, height, data } = raw;
  const pixels = new Uint8ClampedArray(4 * width * height);
  let low = Infinity;
  let high = -Infinity;
  let steps = 0;
  let count = 0;
  for (let i = 0; i < data.length; i++) {
    const z = data[i]!;
    if (Number.isNaN(z)) continue;
    low = Math.min(low, z);
    high = Math.max(high, z);
    const beside = data[i + 1]!;
    if (i % width < width - 1 && !Number.isNaN(beside)) {
      steps += Math.abs(beside - z);
      count++;
    }
  }
  // Light and dark by three mean steps between neighbours, so flat and steep ground both show.
  const perStep = steps > 0 ? count / steps / 3 : 0;
  const perHeight = high > low ? 1 / (high - low) : 0;
  for (let i = 0; i < data.length; i++) {
    const z = data[i]!;
    if (Number.isNaN(z)) continue;
    const west = i % width > 0 ? data[i - 1]! : z;
    const north = i >= width ? data[i - width]! : z;
    const rise = ((Number.isNaN(west) ? 0 : z - west) + (Number.isNaN(north) ? 0 : z - north)) / 2;
    const light = 0.35 + 0.35 * (z - low) * perHeight + 0.3 * Math.tanh(rise * perStep);
    pixels.fill(255 * light, 4 * i, 4 * i + 3);
    pixels[4 * i + 3] = 255;
  }
  return pixels;
}
