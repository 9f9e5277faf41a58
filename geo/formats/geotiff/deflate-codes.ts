import { ENTRY, type Stream } from './inflate-loop.ts';

const { LITERAL, END, SECOND, LITERAL_BITS, DISTANCE_BITS } = ENTRY;

/**
 * The code tables of inflate (RFC 1951 section 3.2) and the slow reading of block heads. The arrays
 * are used again for every block; `literals` and `distances` hold the tables of the block at hand.
 */

/** RFC 1951 section 3.2.5: base and extra bits of lengths 257–285 and of distances 0–29. */
const LENGTH_EXTRA = [
  0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0,
];
const DISTANCE_EXTRA = [
  0, 0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 9, 10, 10, 11, 11, 12, 12, 13, 13,
];
const CODE_ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

const NOTHING = -1;
const literalMeaning = new Int32Array(288).fill(NOTHING);
const distanceMeaning = new Int32Array(32).fill(NOTHING);
for (let i = 0; i < 256; i++) literalMeaning[i] = (i << 16) | LITERAL;
literalMeaning[256] = END;
for (let i = 0, base = 3; i < 29; base += 1 << LENGTH_EXTRA[i]!, i++) {
  literalMeaning[257 + i] = ((i === 28 ? 258 : base) << 16) | (LENGTH_EXTRA[i]! << 4);
}
for (let i = 0, base = 1; i < 30; base += 1 << DISTANCE_EXTRA[i]!, i++) {
  distanceMeaning[i] = (base << 16) | (DISTANCE_EXTRA[i]! << 4);
}
const plainMeaning = Int32Array.from({ length: 19 }, (_, i) => i << 16);

// Work tables, used again for every block: a second table never holds more than 2^15 entries in all.
export const literals = new Int32Array((1 << LITERAL_BITS) + (1 << 15));
export const distances = new Int32Array((1 << DISTANCE_BITS) + (1 << 15));
const codeLengths = new Int32Array((1 << 7) + (1 << 8));
const lengths = new Uint8Array(320);

/** Up to 16 bits, slowly: for heads of blocks. */
export function take(s: Stream, count: number): number {
  while (s.heldBits < count) {
    if (s.at >= s.bytes.length) throw new Error('deflate data ends');
    s.held |= s.bytes[s.at++]! << s.heldBits;
    s.heldBits += 8;
  }
  const value = s.held & ((1 << count) - 1);
  s.held >>>= count;
  s.heldBits -= count;
  return value;
}

export function fixedTables(): void {
  lengths.fill(8, 0, 144).fill(9, 144, 256).fill(7, 256, 280).fill(8, 280, 288);
  buildTable(literals, LITERAL_BITS, 0, 288, literalMeaning);
  lengths.fill(5, 0, 32);
  buildTable(distances, DISTANCE_BITS, 0, 32, distanceMeaning);
}

/** RFC 1951 section 3.2.7. */
export function readTables(s: Stream): void {
  const literalCount = take(s, 5) + 257;
  const distanceCount = take(s, 5) + 1;
  const codeCount = take(s, 4) + 4;
  lengths.fill(0);
  for (let i = 0; i < codeCount; i++) lengths[CODE_ORDER[i]!] = take(s, 3);
  buildTable(codeLengths, 7, 0, 19, plainMeaning);
  lengths.fill(0);
  const total = literalCount + distanceCount;
  for (let i = 0; i < total;) {
    while (s.heldBits < 7) {
      s.held |= (s.bytes[s.at] ?? 0) << s.heldBits;
      s.at++;
      s.heldBits += 8;
    }
    const entry = codeLengths[s.held & 127]!;
    if (entry === 0) throw new Error('deflate code length without a code');
    s.held >>>= entry & 15;
    s.heldBits -= entry & 15;
    const symbol = entry >> 16;
    if (symbol < 16) {
      lengths[i++] = symbol;
      continue;
    }
    const value = symbol === 16 ? lengths[i - 1] : 0;
    if (value === undefined) throw new Error('deflate repeats nothing');
    const run = symbol === 16 ? 3 + take(s, 2) : symbol === 17 ? 3 + take(s, 3) : 11 + take(s, 7);
    if (i + run > total) throw new Error('deflate code lengths run over');
    lengths.fill(value, i, i + run);
    i += run;
  }
  if (lengths[256] === 0) throw new Error('deflate block without an end');
  buildTable(literals, LITERAL_BITS, 0, literalCount, literalMeaning);
  buildTable(distances, DISTANCE_BITS, literalCount, distanceCount, distanceMeaning);
}

const perLength = new Int32Array(16);
const nextCode = new Int32Array(16);

/** Canonical codes (RFC 1951 section 3.2.2) of `lengths[first…]` into a table of `bits` and more. */
function buildTable(
  table: Int32Array,
  bits: number,
  first: number,
  count: number,
  meaning: Int32Array,
): void {
  perLength.fill(0);
  for (let i = 0; i < count; i++) perLength[lengths[first + i]!]!++;
  perLength[0] = 0;
  let code = 0;
  let room = 1;
  for (let length = 1; length < 16; length++) {
    code = (code + perLength[length - 1]!) << 1;
    nextCode[length] = code;
    room = 2 * room - perLength[length]!;
    if (room < 0) throw new Error('deflate has too many codes');
  }
  table.fill(0, 0, 1 << bits);
  const more = 15 - bits;
  let free = 1 << bits;
  for (let symbol = 0; symbol < count; symbol++) {
    const length = lengths[first + symbol]!;
    if (length === 0) continue;
    // Symbols that RFC 1951 leaves without a meaning keep an entry of 0.
    const value = meaning[symbol] === NOTHING ? 0 : meaning[symbol]! | length;
    const reversed = reverse(nextCode[length]!++, length);
    if (length <= bits) {
      for (let at = reversed; at < 1 << bits; at += 1 << length) table[at] = value;
      continue;
    }
    const root = reversed & ((1 << bits) - 1);
    if (table[root] === 0) {
      table[root] = (free << 16) | SECOND;
      table.fill(0, free, free + (1 << more));
      free += 1 << more;
    }
    const base = table[root]! >> 16;
    for (let at = reversed >> bits; at < 1 << more; at += 1 << (length - bits)) {
      table[base + at] = value;
    }
  }
}

const reversedByte = Uint8Array.from({ length: 256 }, (_, byte) => {
  let out = 0;
  for (let i = 0; i < 8; i++) out |= ((byte >> i) & 1) << (7 - i);
  return out;
});

function reverse(code: number, length: number): number {
  return ((reversedByte[code & 255]! << 8) | reversedByte[code >> 8]!) >> (16 - length);
}
