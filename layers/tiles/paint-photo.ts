import type { PhotoLevel } from './tile-source.ts';

/**
 * Paints one row of a photo by bilinear interpolation between cell centres. Where a neighbour has
 * no data its weight goes to the others, so borders stay crisp and no black bleeds in.
 */
export function paintPhotoRow(
  photo: PhotoLevel,
  x: Float64Array,
  y: Float64Array,
  count: number,
  out: Uint8ClampedArray,
  offset: number,
): void {
  const { width, height, pixels, cellWidth, cellHeight } = photo;
  const lastColumn = width - 1;
  const lastRow = height - 1;
  for (let p = 0; p < count; p++) {
    const u = (x[p] - photo.west) / cellWidth - 0.5;
    const v = (photo.north - y[p]) / cellHeight - 0.5;
    if (!(u >= -0.5 && u < width - 0.5 && v >= -0.5 && v < height - 0.5)) continue;
    const i = Math.floor(u);
    const j = Math.floor(v);
    const s = u - i;
    const t = v - j;
    const i0 = i < 0 ? 0 : i;
    const i1 = i < lastColumn ? i + 1 : lastColumn;
    const j0 = (j < 0 ? 0 : j) * width;
    const j1 = (j < lastRow ? j + 1 : lastRow) * width;
    const a = (j0 + i0) * 4;
    const b = (j0 + i1) * 4;
    const c = (j1 + i0) * 4;
    const d = (j1 + i1) * 4;
    let wa = (1 - s) * (1 - t);
    let wb = s * (1 - t);
    let wc = (1 - s) * t;
    let wd = s * t;
    const o = offset + p * 4;
    const alpha = wa * pixels[a + 3] + wb * pixels[b + 3] + wc * pixels[c + 3] + wd * pixels[d + 3];
    if (alpha < 128) continue;
    if (alpha < 254.5) {
      wa *= pixels[a + 3] / alpha;
      wb *= pixels[b + 3] / alpha;
      wc *= pixels[c + 3] / alpha;
      wd *= pixels[d + 3] / alpha;
    }
    out[o] = wa * pixels[a] + wb * pixels[b] + wc * pixels[c] + wd * pixels[d];
    out[o + 1] = wa * pixels[a + 1] + wb * pixels[b + 1] + wc * pixels[c + 1] + wd * pixels[d + 1];
    out[o + 2] = wa * pixels[a + 2] + wb * pixels[b + 2] + wc * pixels[c + 2] + wd * pixels[d + 2];
    out[o + 3] = 255;
  }
}
