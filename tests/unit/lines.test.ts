import { expect, it } from 'vitest';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { linesOf, readLines } from '../../geo/formats/lines.ts';
import { CellList } from '../../geo/raster/cell-list.ts';
import { problem } from '../../geo/result.ts';
import { seeded } from '../seeded.ts';

// Against JavaScript's own split of the whole text.

async function linesRead(text: string, pieces = 1 << 20): Promise<string[]> {
  const bytes = new TextEncoder().encode(text);
  const whole = memorySource('a.txt', bytes);
  const lines: string[] = [];
  // A source may hand over less than was asked for, so that any byte can be the last of a piece.
  const source = { ...whole, size: bytes.length, read: (from: number, length: number) => whole.read(from, Math.min(length, pieces)) }; // prettier-ignore
  const read = await readLines(
    source,
    {
      doing: 'Reading',
      take(own, from, to, line, isQuoted) {
        lines.push(new TextDecoder().decode(own.subarray(from, to)));
        expect(line).toBe(lines.length);
        expect(isQuoted).toBe(lines.at(-1)!.includes('"'));
        return null;
      },
      tooLong: (line) => problem('long', `Line ${line}`, 'cut it'),
    },
    {},
  );
  expect(read.ok).toBe(true);
  return lines;
}

/** A text's last line end begins no line of its own. */
const wanted = (text: string): string[] => text.replace(/(\r\n|\r|\n)$/, '').split(/\r\n|\r|\n/);

it('any line end, wherever a piece is cut', async () => {
  const next = seeded(11);
  for (let run = 0; run < 300; run++) {
    const ends = ['\n', '\r', '\r\n'];
    let text = 'x';
    for (let i = 0; i < 12; i++) {
      text += ['', '1,2', '"a",5', 'ü'][Math.floor(next() * 4)]! + ends[Math.floor(next() * 3)]!;
    }
    // A return and a feed of two lines would be one end to anybody.
    text = text.replace(/\r\n\r\n/g, '\r\nq\r\n') + (next() < 0.5 ? 'last' : '');
    for (const pieces of [8, 9, 13, 1 << 20]) {
      expect(await linesRead(text, pieces), JSON.stringify(text)).toEqual(wanted(text));
    }
    expect(linesOf(`\ufeff${text}`)).toEqual(text.split(/\r\n|\r|\n/));
  }
});

it('ends with the first problem, at a stop, and at a line without an end', async () => {
  const source = memorySource('a.txt', new TextEncoder().encode('a\nb\nc\n'));
  const seen: number[] = [];
  const tooLong = (line: number) => problem('long', `Line ${line}`, 'cut it');
  const take = (_b: Uint8Array, _f: number, _t: number, line: number) => {
    seen.push(line);
    return line === 2 ? problem('two', 'Two.', 'No way.') : null;
  };
  const order = { doing: 'Reading', take, tooLong };
  expect(await readLines(source, order, {})).toMatchObject({ problem: { code: 'two' } });
  expect(seen).toEqual([1, 2]);
  const stopped = await readLines(source, order, { shouldStop: () => true });
  expect([stopped.ok, seen.length]).toEqual([false, 2]);
  const endless = memorySource('b.txt', new Uint8Array((1 << 20) + 5).fill(65));
  expect(await readLines(endless, { ...order, take: () => null }, {})).toMatchObject({
    problem: { code: 'long', what: 'Line 1' },
  });
});

it('a list of cells grows, and gives back what was put in', () => {
  const list = new CellList(1);
  const plain: number[] = [];
  const next = seeded(5);
  for (let i = 0; i < 5000; i++) {
    if (plain.length > 0 && next() < 0.3) expect(list.pop()).toBe(plain.pop());
    else {
      list.push(i * 7);
      plain.push(i * 7);
    }
    expect(list.length).toBe(plain.length);
  }
  expect([...list.all()]).toEqual(plain);
  expect(list.at(3)).toBe(plain[3]);
});
