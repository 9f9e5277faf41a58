import { deflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { adler32 } from '../../geo/formats/geotiff/adler32.ts';
import { decodeBlock, type BlockParams } from '../../geo/formats/geotiff/decode-block.ts';
import { predictFloatRow } from '../../geo/formats/geotiff/apply-predictor.ts';
import { undoPredictor } from '../../geo/formats/geotiff/undo-predictor.ts';
import { unpackZlib } from '../../geo/formats/geotiff/unpack-deflate.ts';
import { unpackPackBits } from '../../geo/formats/geotiff/unpack-packbits.ts';
import { seeded } from '../seeded.ts';

/** Bytes of several characters: noise, text-like, long runs, repeats near and far. */
function sampleBytes(kind: number, length: number, seed: number): Uint8Array {
  const random = seeded(seed);
  const bytes = new Uint8Array(length);
  for (let i = 0; i < length; i++) {
    if (kind === 0) bytes[i] = random() * 256;
    else if (kind === 1) bytes[i] = 97 + random() ** 3 * 26;
    else if (kind === 2) bytes[i] = random() < 0.002 ? random() * 256 : (bytes[i - 1] ?? 0);
    else if (kind === 3) bytes[i] = i > 5000 && random() < 0.98 ? bytes[i - 4999]! : random() * 256;
    else bytes[i] = random() < 0.9 ? 0 : random() * 4;
  }
  return bytes;
}

describe('inflate', () => {
  // Reference: zlib itself (through Node) packs; what comes out must be what went in.
  test.each([0, 1, 2, 3, 4])('zlib data of kind %s, all levels and strategies', (kind) => {
    for (const length of [0, 1, 2, 257, 70_001]) {
      const bytes = sampleBytes(kind, length, kind * 1000 + length);
      for (const level of [0, 1, 6, 9]) {
        for (const strategy of [0, 1, 2, 3, 4]) {
          for (const windowBits of [9, 15]) {
            const packed = new Uint8Array(deflateSync(bytes, { level, strategy, windowBits }));
            const out = new Uint8Array(length);
            expect(unpackZlib(packed, out)).toBe(length);
            expect(Buffer.from(out).equals(bytes)).toBe(true);
            const roomy = new Uint8Array(length + 10);
            expect(unpackZlib(packed, roomy)).toBe(length);
          }
        }
      }
    }
  });

  test('too little, too much, and every cut throws', () => {
    const bytes = sampleBytes(1, 3000, 5);
    const packed = new Uint8Array(deflateSync(bytes));
    expect(() => unpackZlib(packed, new Uint8Array(2999))).toThrow('more data');
    for (let length = 0; length < packed.length; length += 7) {
      expect(() => unpackZlib(packed.subarray(0, length), new Uint8Array(3000))).toThrow();
    }
  });

  test('every flipped bit throws or gives the same bytes', () => {
    const bytes = sampleBytes(1, 900, 6);
    const packed = new Uint8Array(deflateSync(bytes));
    for (let bit = 0; bit < 8 * packed.length; bit++) {
      const bad = packed.slice();
      bad[bit >> 3] = bad[bit >> 3]! ^ (1 << (bit & 7));
      const out = new Uint8Array(900);
      let written = -1;
      try {
        written = unpackZlib(bad, out);
      } catch {
        continue;
      }
      expect(written).toBe(900);
      expect(Buffer.from(out).equals(bytes)).toBe(true);
    }
  });
});

test('Adler-32 of "Wikipedia" is 0x11e60398, a widely printed example', () => {
  expect(adler32(new TextEncoder().encode('Wikipedia'))).toBe(0x11e60398);
});

test('PackBits: the worked example of Apple Technical Note 1023', () => {
  const packed = Uint8Array.of(
    0xfe,
    0xaa,
    0x02,
    0x80,
    0x00,
    0x2a,
    0xfd,
    0xaa,
    0x03,
    0x80,
    0x00,
    0x2a,
    0x22,
    0xf7,
    0xaa,
  );
  const out = new Uint8Array(24);
  expect(unpackPackBits(packed, out)).toBe(24);
  const hex = Buffer.from(out).toString('hex');
  expect(hex).toBe('aaaaaa80002aaaaaaaaa80002a22' + 'aa'.repeat(10));
});

test('the fast floating-point predictor equals the plain one', () => {
  const random = seeded(9);
  for (const cells of [4, 8, 500, 512, 4096]) {
    const words = Uint32Array.from({ length: cells }, () => random() * 2 ** 32);
    const packed = new Uint8Array(cells * 4);
    predictFloatRow(words, 0, cells, packed, 0);
    const fast = packed.slice().buffer;
    undoPredictor(fast, 3, 32, cells, 1, 1);
    expect(Buffer.from(fast).equals(Buffer.from(words.buffer))).toBe(true);
    // Plain: sum the bytes, then take one from each plane.
    const plain = packed.slice();
    for (let i = 1; i < plain.length; i++) plain[i] = plain[i]! + plain[i - 1]!;
    const first =
      (plain[0]! << 24) | (plain[cells]! << 16) | (plain[2 * cells]! << 8) | plain[3 * cells]!;
    expect(new Uint32Array(fast)[0]).toBe(first >>> 0);
  }
});

test('a block with too few bytes rejects', async () => {
  const params: BlockParams = {
    compression: 1,
    predictor: 1,
    bits: 32,
    littleEndian: true,
    width: 16,
    rows: 16,
    rowsNeeded: 16,
    samples: 1,
    jpegTables: null,
    jpegColours: 'rgb',
  };
  await expect(decodeBlock(new Uint8Array(1000), params)).rejects.toThrow('1000 of 1024');
});
