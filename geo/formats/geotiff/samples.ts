import type { SampleKind } from './tiff-image.ts';

export type SampleView =
  | Uint8Array
  | Int8Array
  | Uint16Array
  | Int16Array
  | Uint32Array
  | Int32Array
  | Float32Array
  | Float64Array;

/** Values of an unpacked block. 16-bit floats and 64-bit integers come as a float64 copy. */
export function sampleView(block: ArrayBuffer, kind: SampleKind, bits: number): SampleView {
  if (kind === 'float') {
    if (bits === 32) return new Float32Array(block);
    return bits === 64 ? new Float64Array(block) : halfFloats(new Uint16Array(block));
  }
  const signed = kind === 'int';
  if (bits === 8) return signed ? new Int8Array(block) : new Uint8Array(block);
  if (bits === 16) return signed ? new Int16Array(block) : new Uint16Array(block);
  if (bits === 32) return signed ? new Int32Array(block) : new Uint32Array(block);
  if (bits === 64) {
    return Float64Array.from(signed ? new BigInt64Array(block) : new BigUint64Array(block), Number);
  }
  throw new RangeError(`${bits}-bit ${kind} samples`);
}

/** IEEE 754 binary16 to numbers. Example: 0x3c00 is 1. */
function halfFloats(words: Uint16Array): Float64Array {
  const out = new Float64Array(words.length);
  for (let i = 0; i < words.length; i++) {
    const exponent = (words[i] >> 10) & 31;
    const fraction = words[i] & 1023;
    const size =
      exponent === 31
        ? fraction
          ? NaN
          : Infinity
        : exponent === 0
          ? fraction * 2 ** -24
          : (1024 + fraction) * 2 ** (exponent - 25);
    out[i] = words[i] >> 15 ? -size : size;
  }
  return out;
}

/** Every `stride`-th value of a run into consecutive cells. */
export function spread(
  values: SampleView,
  from: number,
  stride: number,
  count: number,
  out: Float32Array,
  to: number,
): void {
  for (let i = 0, at = from; i < count; i++, at += stride) out[to + i] = values[at];
}
