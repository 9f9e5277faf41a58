import { OUTLET, PIT } from './pointer-codes.ts';

/** Whether a row holds data throughout, and none of it below 0: such heights sort as their bits do. */
export function isPlain(bits: Int32Array, start: number, width: number): boolean {
  for (let i = start; i < start + width; i++) if (bits[i]! >>> 0 >= INFINITE) return false;
  return true;
}
const INFINITE = 0x7f80_0000;

/**
 * The same as `innerRow` for a plain row between plain rows, without a branch for each neighbour: on
 * rough ground every other one would be guessed wrong. `d >> 31` is all ones where `d` is negative.
 */
export function plainRow(
  z: Int32Array,
  start: number,
  width: number,
  out: Uint8Array,
  flats: Int32Array,
  count: number,
): number {
  out[start] = OUTLET;
  const last = start + width - 1;
  let a = z[start - width]!;
  let b = z[start - width + 1]!;
  let d = z[start]!;
  let e = z[start + 1]!;
  let g = z[start + width]!;
  let h = z[start + width + 1]!;
  for (let i = start + 1; i < last; i++) {
    const c = z[i - width + 1]!;
    const f = z[i + 1]!;
    const k = z[i + width + 1]!;
    let low = e;
    let to = PIT;
    let less = (a - low) >> 31;
    low += (a - low) & less;
    to ^= to & less;
    less = (b - low) >> 31;
    low += (b - low) & less;
    to ^= (to ^ 1) & less;
    less = (c - low) >> 31;
    low += (c - low) & less;
    to ^= (to ^ 2) & less;
    less = (d - low) >> 31;
    low += (d - low) & less;
    to ^= (to ^ 3) & less;
    less = (f - low) >> 31;
    low += (f - low) & less;
    to ^= (to ^ 4) & less;
    less = (g - low) >> 31;
    low += (g - low) & less;
    to ^= (to ^ 5) & less;
    less = (h - low) >> 31;
    low += (h - low) & less;
    to ^= (to ^ 6) & less;
    to ^= (to ^ 7) & ((k - low) >> 31);
    out[i] = to;
    if (to === PIT) flats[count++] = i;
    a = b;
    b = c;
    d = e;
    e = f;
    g = h;
    h = k;
  }
  if (width > 1) out[last] = OUTLET;
  return count;
}
