import { adler32 } from './adler32.ts';

/**
 * Inflate (RFC 1951), tuned for survey blocks: mostly literals of eight or nine bits. Bits are held
 * 24 to 31 at a time and filled up by one 32-bit load without a branch; codes are found in a table of
 * 10 bits with second tables for the rare longer ones. About three times as fast here as the
 * library's, which a test holds it against.
 */

/** Bytes after the packed ones that may be read (never used); see `withSlack`. */
const SLACK = 8;

// A table entry: bits 0–3 code length, 4–7 extra bits, 8 literal, 9 end, 10 second table, 16–31 value.
const LITERAL = 1 << 8;
const END = 1 << 9;
const SECOND = 1 << 10;
const LITERAL_BITS = 10;
const DISTANCE_BITS = 9;

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
const literals = new Int32Array((1 << LITERAL_BITS) + (1 << 15));
const distances = new Int32Array((1 << DISTANCE_BITS) + (1 << 15));
const codeLengths = new Int32Array((1 << 7) + (1 << 8));
const lengths = new Uint8Array(320);

/** A copy of the bytes that `unpackZlib` can read without one of its own. */
export function withSlack(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  const copy = new Uint8Array(bytes.byteLength + SLACK);
  copy.set(bytes);
  return copy.subarray(0, bytes.byteLength);
}

/**
 * Unpacks zlib data (RFC 1950: head, deflate data, checksum) into `out`. The checksum is looked at:
 * a flipped bit often unpacks into nonsense without any other sign.
 *
 * @returns how many bytes were written
 * @throws Error where the data is damaged, ends too early or holds more than `out`
 */
export function unpackZlib(packed: Uint8Array, out: Uint8Array): number {
  const [method, flags] = packed;
  if ((method! & 15) !== 8 || ((method! << 8) | flags!) % 31 !== 0 || (flags! & 32) !== 0) {
    throw new Error('not zlib data');
  }
  const roomy = packed.buffer.byteLength - packed.byteOffset >= packed.byteLength + SLACK;
  const source = roomy ? packed : withSlack(packed);
  const stream: Stream = {
    view: new DataView(source.buffer, source.byteOffset, source.byteLength + SLACK),
    bytes: source,
    at: 2,
    held: 0,
    heldBits: 0,
    written: 0,
  };
  for (let last = false; !last;) {
    last = take(stream, 1) === 1;
    const kind = take(stream, 2);
    if (kind === 0) copyStored(stream, out);
    else {
      if (kind === 1) fixedTables();
      else if (kind === 2) readTables(stream);
      else throw new Error('deflate block of kind 3');
      unpackCodes(stream, out);
    }
    if (stream.written > out.length) throw new Error('more data than cells');
  }
  const end = stream.at - (stream.heldBits >> 3);
  if (end + 4 > packed.byteLength) throw new Error('deflate data ends');
  if (stream.view.getUint32(end, false) !== adler32(out.subarray(0, stream.written))) {
    throw new Error('checksum does not fit');
  }
  return stream.written;
}

interface Stream {
  readonly view: DataView;
  readonly bytes: Uint8Array;
  /** Next byte to load; bits loaded and not used are in `held`, low bit first. */
  at: number;
  held: number;
  heldBits: number;
  written: number;
}

/** Up to 16 bits, slowly: for heads of blocks. */
function take(s: Stream, count: number): number {
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

function copyStored(s: Stream, out: Uint8Array): void {
  s.at -= s.heldBits >> 3;
  s.held = 0;
  s.heldBits = 0;
  const size = take(s, 16);
  if (take(s, 16) !== (size ^ 0xffff)) throw new Error('deflate stored block of unsure size');
  if (s.at + size > s.bytes.length) throw new Error('deflate data ends');
  const room = Math.max(0, Math.min(size, out.length - s.written));
  out.set(s.bytes.subarray(s.at, s.at + room), s.written);
  s.at += size;
  s.written += size;
}

function fixedTables(): void {
  lengths.fill(8, 0, 144).fill(9, 144, 256).fill(7, 256, 280).fill(8, 280, 288);
  buildTable(literals, LITERAL_BITS, 0, 288, literalMeaning);
  lengths.fill(5, 0, 32);
  buildTable(distances, DISTANCE_BITS, 0, 32, distanceMeaning);
}

/** RFC 1951 section 3.2.7. */
function readTables(s: Stream): void {
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

/** The codes of one block, until its end code or until `out` is full. */
function unpackCodes(s: Stream, out: Uint8Array): void {
  const view = s.view;
  const lit = literals;
  const dist = distances;
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
  s.written = o > room || !endsHere(s) ? room + 1 : o;
}

/** Whether the next code is the end of the block; it is taken if so. */
function endsHere(s: Stream): boolean {
  const held = s.held | (s.view.getUint32(s.at, true) << s.heldBits);
  let entry = literals[held & ((1 << LITERAL_BITS) - 1)]!;
  if ((entry & SECOND) !== 0) {
    entry = literals[(entry >> 16) + ((held >>> LITERAL_BITS) & 31)]!;
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
