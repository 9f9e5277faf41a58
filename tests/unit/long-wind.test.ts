import { expect, test } from 'vitest';
import { openWind } from '../../geo/formats/wind/open-wind.ts';
import { generatedWind } from '../generated-wind.ts';

/** The way that 5 million rows go (`npm run bench wind`), with fewer of them. */
const PIECE = 1 << 20;

test('300,000 rows: read once, a piece of 1 MB at a time; one row an hour is kept', async () => {
  const source = generatedWind(300_000);
  const shares: number[] = [];
  const opened = await openWind(source, {}, { onProgress: ({ share }) => void shares.push(share) });
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened));
  expect(opened.stations.map(({ id }) => id)).toEqual(['QB0', 'QB1', 'QB2', 'QB3', 'QB4']);
  for (const { record, tally } of opened.stations) {
    expect(record.count).toBe(source.hoursEach);
    expect(tally).toMatchObject({ rows: 60_000, kept: 5000, gaps: 0, moreInHour: 55_000 });
    // Nothing is kept but typed arrays of an entry an hour.
    const columns = Object.values(record).filter((one) => ArrayBuffer.isView(one));
    expect(columns).toHaveLength(6);
    for (const column of columns) expect(column.buffer.byteLength).toBeLessThanOrEqual(8 * 5000);
  }
  expect(source.asked.longest).toBe(PIECE);
  // Once, but for the beginning that is looked at and the rows that a piece cuts.
  expect(source.asked.bytes).toBeLessThan(source.size + (1 << 17) + 64 * shares.length);
  expect(shares.length).toBe(Math.ceil(source.size / (PIECE - 28)));
  expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  expect(shares.at(-1)).toBe(1);
});

test('stopped part way, no further piece is read', async () => {
  const source = generatedWind(300_000);
  let pieces = 0;
  let readsThen = 0;
  const stop = await openWind(
    source,
    {},
    {
      onProgress: () => {
        if (++pieces === 3) readsThen = source.asked.reads;
      },
      shouldStop: () => pieces >= 3,
    },
  );
  expect(stop).toMatchObject({ kind: 'refused', problem: { code: 'stopped' } });
  expect(pieces).toBe(3);
  expect(source.asked.reads).toBe(readsThen);
  expect(source.asked.bytes).toBeLessThan(4 * PIECE);
});
