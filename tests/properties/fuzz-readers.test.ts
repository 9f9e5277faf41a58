import { readFileSync } from 'node:fs';
import { zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { readCapabilities } from '../../geo/formats/imagery/read-capabilities.ts';
import { readRainTable } from '../../geo/formats/rain-table.ts';
import type { Result } from '../../geo/result.ts';
import { fuzzCount } from '../fuzz-count.ts';
import { wms111, wms130, wmts } from '../imagery-samples.ts';
import { openZip, testProject, unzipped, zipOf } from '../project-rig.ts';
import { seeded } from '../seeded.ts';

// Damaged rainfall tables, capabilities of imagery and project files: each is read or refused with a
// code and the way out; nothing is thrown and nothing takes 5 s. The seed names the case.

const COUNT = fuzzCount(400, 0.2);
const LONGEST_MS = 5000;
const SCRAPS = ['nan', '-', '1e999', ',', '"', '\n', '\0', '<', '&x;', ']]>', '{', '[', 'null', '../', '-1', '9'.repeat(30)]; // prettier-ignore

function hurt(bytes: Uint8Array, random: () => number): Uint8Array {
  const whole = (n: number) => Math.floor(random() * n);
  let out = bytes;
  for (let turns = random() < 0.5 ? 1 : 1 + whole(4); turns > 0; turns--) {
    const at = whole(out.length + 1);
    const put: Uint8Array = [
      new TextEncoder().encode(SCRAPS[whole(SCRAPS.length)]),
      out.slice(at, at + whole(60)),
      new Uint8Array(),
      Uint8Array.of(whole(256)),
    ][whole(4)]!;
    const rest = random() < 0.05 ? new Uint8Array() : out.subarray(at + whole(12));
    const next = new Uint8Array(at + put.length + rest.length);
    next.set(out.subarray(0, at));
    next.set(put, at);
    next.set(rest, at + put.length);
    out = next;
  }
  return out;
}

test(
  `${COUNT} damaged tables, capabilities and projects are read or refused`,
  { timeout: 60_000 + COUNT * 40 },
  async () => {
    const rain = new Uint8Array(readFileSync('fixtures/demo/rain.csv'));
    const offers = [wms111, wms130, wmts].map((make) => new TextEncoder().encode(make('http://127.0.0.1/x'))); // prettier-ignore
    const zip = await zipOf(testProject());
    const parts = unzipped(zip);
    const names = Object.keys(parts);
    const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
    const ends = new Map<string, number>();
    let longest = { milliseconds: 0, seed: 0 };
    for (let seed = 1; seed <= COUNT; seed++) {
      const random = seeded(seed);
      const name = names[Math.floor(random() * names.length)]!;
      const readers: readonly [string, () => Result<unknown> | Promise<Result<unknown>>][] = [
        ['rain', () => readRainTable('rain.csv', text(hurt(rain, random)))],
        ['offer', () => readCapabilities(text(hurt(offers[seed % 3]!, random)), 'http://127.0.0.1/x')], // prettier-ignore
        // The bytes of the zip, and a part of it that passes its checksum.
        ['zip', () => openZip(hurt(zip, random))],
        ['part', () => openZip(zipSync({ ...parts, [name]: hurt(parts[name]!, random) }, { level: 1 }))], // prettier-ignore
      ];
      const [sort, read] = readers[seed % readers.length]!;
      const start = performance.now();
      let result;
      try {
        result = await read();
      } catch (error) {
        throw new Error(`${sort}, seed ${seed}`, { cause: error });
      }
      const milliseconds = performance.now() - start;
      if (milliseconds > longest.milliseconds) longest = { milliseconds, seed };
      if (!result.ok) {
        const { code, what, wayOut } = result.problem;
        expect([code, what, wayOut].every(Boolean), `${sort}, seed ${seed}`).toBe(true);
      }
      const end = result.ok ? `${sort} read` : `${sort} ${result.problem.code}`;
      ends.set(end, (ends.get(end) ?? 0) + 1);
    }
    if (COUNT > 400) console.log(longest, [...ends]);
    expect(longest.milliseconds, `seed ${longest.seed}`).toBeLessThan(LONGEST_MS);
    for (const sort of ['rain', 'offer', 'part'])
      expect(ends.get(`${sort} read`)).toBeGreaterThan(5);
    expect(ends.size).toBeGreaterThan(8);
  },
);
