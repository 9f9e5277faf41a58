import { elevationRamp, rgb } from '../palette.ts';

const steps = 256;
const table = rampTable(elevationRamp);

function rampTable(ramp: readonly string[]): Uint8Array {
  const colours = ramp.map(rgb);
  const out = new Uint8Array(steps * 3);
  for (let i = 0; i < steps; i++) {
    const at = (i / (steps - 1)) * (colours.length - 1);
    const k = Math.min(colours.length - 2, Math.floor(at));
    for (let b = 0; b < 3; b++) {
      out[i * 3 + b] = Math.round(colours[k][b] + (colours[k + 1][b] - colours[k][b]) * (at - k));
    }
  }
  return out;
}

/** Paints one row of heights as an opaque tint between the lowest and highest of the site. */
export function paintElevationRow(
  heights: Float32Array,
  count: number,
  lowestMeters: number,
  highestMeters: number,
  out: Uint8ClampedArray,
  offset: number,
): void {
  const scale = highestMeters > lowestMeters ? (steps - 1) / (highestMeters - lowestMeters) : 0;
  for (let p = 0; p < count; p++) {
    const height = heights[p];
    if (height !== height) continue;
    const step = Math.round((height - lowestMeters) * scale);
    const k = Math.max(0, Math.min(steps - 1, step)) * 3;
    const o = offset + p * 4;
    out[o] = table[k];
    out[o + 1] = table[k + 1];
    out[o + 2] = table[k + 2];
    out[o + 3] = 255;
  }
}
