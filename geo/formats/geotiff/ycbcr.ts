/**
 * Luma and colour differences into red, green, blue, in place; every `stride`-th byte begins a pixel.
 * ITU-R BT.601 full range, the default of TIFF 6.0 section 21. Example: 128, 128, 255 (much red)
 * gives 255, 37, 128.
 */
export function yCbCrToRgb(pixels: Uint8ClampedArray, stride: 3 | 4): void {
  for (let at = 0; at < pixels.length; at += stride) {
    const y = pixels[at];
    const cb = pixels[at + 1] - 128;
    const cr = pixels[at + 2] - 128;
    pixels[at] = y + 1.402 * cr;
    pixels[at + 1] = y - 0.344136 * cb - 0.714136 * cr;
    pixels[at + 2] = y + 1.772 * cb;
  }
}
