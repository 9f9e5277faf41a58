/**
 * The hot loop of inflate (RFC 1951): bits are held 24 to 31 at a time and filled up by one 32-bit load
 * without a branch; codes are found in a table of 10 bits with second tables for the rare longer ones.
 */

// A table entry: bits 0–3 code length, 4–7 extra bits, 8 literal, 9 end, 10 second table, 16–31 value.
const LITERAL = 1 << 8;
const END = 1 << 9;
const SECOND = 1 << 10;
const LITERAL_BITS = 10;
const DISTANCE_BITS = 9;

/** The same for whoever builds tables; the loop's own must not be exported: it slows them. */
export const ENTRY = { LITERAL, END, SECOND, LITERAL_BITS, DISTANCE_BITS } as const;

export interface Stream {
  readonly view: DataView;
  readonly bytes: Uint8Array;
  /** Next byte to load; bits loaded and not used are in `held`, low bit first. */
  at: number;
  held: number;
  heldBits: number;
  written: number;
}

/** The codes of one block, until its end code or until `out` is full. */
export function unpackCodes(s: Stream, lit: Int32Array, dist: Int32Array, out: Uint8Array): void {
  const view = s.view;
  const room = out.length;
  let at = s.at;
  let held = s.held;
  let n = s.heldBits;
  let o = s.written;
  // Reading past the slack throws RangeError: the data has ended long before.
  while (o < room) {
    held |= view.getUint32(at, true) << n;
    at += (31 - n) >> 3;
    n |= 24;
    let entry = lit[held & ((1 << LITERAL_BITS) - 1)]!;
    if ((entry & LITERAL) !== 0) {
      held >>>= entry & 15;
      n -= entry & 15;
      out[o++] = entry >> 16;
      // Of 24 bits at least 14 are left: enough for a second literal without a load, and for a
      // third where the codes are as short as they mostly are.
      entry = lit[held & ((1 << LITERAL_BITS) - 1)]!;
      if ((entry & LITERAL) !== 0 && o < room) {
        held >>>= entry & 15;
        n -= entry & 15;
        out[o++] = entry >> 16;
        entry = lit[held & ((1 << LITERAL_BITS) - 1)]!;
        if ((entry & LITERAL) !== 0 && (entry & 15) <= n && o < room) {
          held >>>= entry & 15;
          n -= entry & 15;
          out[o++] = entry >> 16;
        }
      }
      continue;
    }
    if ((entry & SECOND) !== 0) {
      entry = lit[(entry >> 16) + ((held >>> LITERAL_BITS) & 31)]!;
    }
    if (entry === 0) throw new Error('deflate code that means nothing');
    held >>>= entry & 15;
    n -= entry & 15;
    if ((entry & LITERAL) !== 0) {
      out[o++] = entry >> 16;
      continue;
    }
    if ((entry & END) !== 0) {
      s.at = at;
      s.held = held & ((1 << n) - 1);
      s.heldBits = n;
      s.written = o;
      return;
    }
    const lengthExtra = (entry >> 4) & 15;
    const length = (entry >> 16) + (held & ((1 << lengthExtra) - 1));
    held >>>= lengthExtra;
    n -= lengthExtra;

    held |= view.getUint32(at, true) << n;
    at += (31 - n) >> 3;
    n |= 24;
    entry = dist[held & ((1 << DISTANCE_BITS) - 1)]!;
    if ((entry & SECOND) !== 0) {
      entry = dist[(entry >> 16) + ((held >>> DISTANCE_BITS) & 63)]!;
    }
    if (entry === 0) throw new Error('deflate distance that means nothing');
    held >>>= entry & 15;
    n -= entry & 15;
    const distanceExtra = (entry >> 4) & 15;
    if (n < distanceExtra) {
      held |= view.getUint32(at, true) << n;
      at += (31 - n) >> 3;
      n |= 24;
    }
    const distance = (entry >> 16) + (held & ((1 << distanceExtra) - 1));
    held >>>= distanceExtra;
    n -= distanceExtra;
    if (distance > o) throw new Error('deflate reaches back before the start');
    copyBack(out, o, distance, length);
    o += length;
  }
  s.at = at;
  s.held = held;
  s.heldBits = n;
  // Full before the end code came: told apart from an exact fit by looking for that code.
  s.written = o > room || !endsHere(s, lit) ? room + 1 : o;
}

/** Whether the next code is the end of the block; it is taken if so. */
function endsHere(s: Stream, lit: Int32Array): boolean {
  const held = s.held | (s.view.getUint32(s.at, true) << s.heldBits);
  let entry = lit[held & ((1 << LITERAL_BITS) - 1)]!;
  if ((entry & SECOND) !== 0) {
    entry = lit[(entry >> 16) + ((held >>> LITERAL_BITS) & 31)]!;
  }
  if ((entry & END) === 0) return false;
  const length = entry & 15;
  while (s.heldBits < length) {
    s.held |= s.view.getUint8(s.at++) << s.heldBits;
    s.heldBits += 8;
  }
  s.held = (s.held >>> length) & ((1 << (s.heldBits - length)) - 1);
  s.heldBits -= length;
  return true;
}

function copyBack(out: Uint8Array, to: number, distance: number, length: number): void {
  const end = Math.min(to + length, out.length);
  if (distance === 1) out.fill(out[to - 1]!, to, end);
  else if (distance >= length && length > 24) out.copyWithin(to, to - distance, end - distance);
  else for (let i = to; i < end; i++) out[i] = out[i - distance]!;
}
