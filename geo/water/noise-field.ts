import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { boxAlongRows, boxDownColumns, boxOf, type Box } from './box-filter.ts';

/** Work arrays of `noiseField`; keep them for the next field of the same or a smaller size. */
export class NoiseBuffers {
  private one = new Float32Array(0);
  private other = new Float32Array(0);

  fit(cells: number): { readonly one: Float32Array; readonly other: Float32Array } {
    if (this.one.length < cells) {
      this.one = new Float32Array(cells);
      this.other = new Float32Array(cells);
    }
    return { one: this.one.subarray(0, cells), other: this.other.subarray(0, cells) };
  }
}

export interface NoiseShape {
  readonly width: number;
  readonly height: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
}

/**
 * A random field of mean 0 and deviation 1 whose correlation over a distance h is about
 * exp(−(h / range)²), so 37 % at the range. White noise from a seed (sums of twelve 16-bit pieces of
 * a 32-bit xorshift, Marsaglia 2003; whole numbers, the same on every machine) goes through three
 * box filters each way, as good as a Gaussian of range / 2 (Wells 1986), and is scaled by the
 * filters' own sum of squares. The field runs on round the edges, so it is as strong there as in
 * the middle. A range under one cell leaves the noise white.
 * Row-major; what comes back is one of the buffers. Throws RangeError for a range below 0.
 * Example: range 20 m on cells of 1 m: neighbours 20 m apart correlate by 0.37.
 */
export function* noiseField(
  shape: NoiseShape,
  rangeMeters: number,
  seed: number,
  buffers = new NoiseBuffers(),
): Work<Float32Array> {
  const { width, height, cellWidth, cellHeight } = shape;
  if (!(rangeMeters >= 0)) throw new RangeError(`noise with a range of ${rangeMeters} m`);
  const { one, other } = buffers.fit(width * height);
  const doing = 'making up survey error';
  const band = rowsPerBand(width) * width;
  const random = new Xorshift(seed);
  for (let from = 0; from < one.length; from += band) {
    random.fillNormal(one, from, Math.min(one.length, from + band));
    yield { share: (0.4 * from) / one.length, doing };
  }
  const across = boxOf(rangeMeters / 2 / cellWidth);
  const down = boxOf(rangeMeters / 2 / cellHeight);
  let field = one;
  let spare = other;
  let scale = 1;
  if (across) {
    for (let pass = 0; pass < 3; pass++) {
      boxAlongRows(field, width, height, across, spare);
      [field, spare] = [spare, field];
      yield { share: 0.4 + 0.1 * pass, doing };
    }
    scale *= gain(width, across);
  }
  if (down) {
    for (let pass = 0; pass < 3; pass++) {
      boxDownColumns(field, width, height, down, spare);
      [field, spare] = [spare, field];
      yield { share: 0.7 + 0.1 * pass, doing };
    }
    scale *= gain(height, down);
  }
  if (scale !== 1) for (let i = 0; i < field.length; i++) field[i] = field[i]! * scale;
  return field;
}

/** What brings three passes over a line of white noise back to deviation 1. */
function gain(length: number, box: Box): number {
  let line = new Float32Array(length);
  let spare = new Float32Array(length);
  line[0] = 1;
  for (let pass = 0; pass < 3; pass++) {
    boxAlongRows(line, length, 1, box, spare);
    [line, spare] = [spare, line];
  }
  return 1 / Math.sqrt(line.reduce((sum, weight) => sum + weight * weight, 0));
}

/** Marsaglia's 32-bit xorshift (13, 17, 5). */
class Xorshift {
  private state: number;

  constructor(seed: number) {
    this.state = mixedSeed(seed, 0) || 1;
  }

  /** Normal out to 6 deviations: twelve uniform 16-bit numbers, summed. */
  fillNormal(out: Float32Array, from: number, to: number): void {
    let x = this.state;
    const scale = 1 / Math.sqrt(65_536 * 65_536 - 1);
    for (let i = from; i < to; i++) {
      let sum = -12 * 32_767.5;
      for (let k = 0; k < 6; k++) {
        x ^= x << 13;
        x ^= x >>> 17;
        x ^= x << 5;
        sum += (x & 0xffff) + (x >>> 16);
      }
      out[i] = sum * scale;
    }
    this.state = x;
  }
}

/** A seed from a seed and a number, for one run of many: a 32-bit mixer, any two differ well. */
export function mixedSeed(seed: number, n: number): number {
  let h = (seed | 0) ^ Math.imul(n + 1, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
