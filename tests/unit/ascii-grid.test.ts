import { expect, test } from 'vitest';
import { openAsciiGrid, readAsciiGrid } from '../../geo/formats/ascii-grid.ts';
import { memorySource, type ByteSource } from '../../geo/formats/byte-source.ts';

// Layout: ESRI ArcGIS help, "Esri ASCII raster format".

const source = (text: string) => memorySource('ground.asc', new TextEncoder().encode(text));

async function read(from: ByteSource) {
  const header = await openAsciiGrid(from);
  if (!header.ok) return header;
  const { width, height } = header.value;
  const data = await readAsciiGrid(from, header.value, {
    column: 0,
    row: 0,
    width,
    height,
    step: 1,
  });
  return data.ok ? { ok: true as const, header: header.value, data: [...data.value] } : data;
}

const codeOf = async (text: string) => {
  const result = await read(source(text));
  return result.ok ? 'read' : result.problem.code;
};

test('keys in any case and order, centre origin, dx and dy, wrapped lines, exponents', async () => {
  const text =
    'NROWS 2\r\nNcols 3\r\nYLLCENTER 101\r\nxllCenter 11\r\nDX 2\r\nDY 4\r\nNODATA_VALUE -32768\r\n' +
    '1 2\r\n3 -32768\r\n5e1 6.25\r\n';
  const result = await read(source(text));
  expect(result).toMatchObject({
    ok: true,
    header: {
      width: 3,
      height: 2,
      west: 10,
      north: 107,
      cellWidth: 2,
      cellHeight: 4,
      nodata: -32768,
    },
    data: [1, 2, 3, NaN, 50, 6.25],
  });
});

const HEAD = 'ncols 2\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n';

test('no data: -9999 where the file does not say, NaN words, beyond 1e30', async () => {
  expect(await read(source(`${HEAD}-9999 nan 1e38 -3.4028234663852886e+38`))).toMatchObject({
    data: [NaN, NaN, NaN, NaN],
  });
  const stated = `${HEAD}NODATA_value -3.40282346638528859811704183484516925e+38\n-9999 1 2 3`;
  expect(await read(source(stated))).toMatchObject({ data: [-9999, 1, 2, 3] });
  expect(await read(source(`${HEAD}nodata_value nan\n1 2 nan 3`))).toMatchObject({
    data: [1, 2, NaN, 3],
  });
});

test('a number may be cut by the end of a piece', async () => {
  const whole = source(`${HEAD}412.5 413.25 414.125 415.0625`);
  for (let piece = 70; piece < 90; piece++) {
    const dripping: ByteSource = {
      ...whole,
      read: (offset, length) =>
        whole.read(
          offset,
          offset === 0 && length === 4096 ? length : Math.min(length, (piece % 13) + 8),
        ),
    };
    expect(await read(dripping)).toMatchObject({ data: [412.5, 413.25, 414.125, 415.0625] });
  }
});

test('each fault is told by its code, with a way out', async () => {
  expect(await codeOf(`${HEAD}1 2 3`)).toBe('ascii-grid-count');
  expect(await codeOf(`${HEAD}1 2 3 4 5`)).toBe('ascii-grid-count');
  expect(await codeOf(HEAD)).toBe('ascii-grid-count');
  expect(await codeOf(`${HEAD}1 2 x 4`)).toBe('ascii-grid-text');
  expect(await codeOf(`${HEAD}1,5 2,5 3,5 4,5`)).toBe('comma-decimals');
  expect(await codeOf(HEAD.replace('cellsize 1', 'cellsize 1,5') + '1 2 3 4')).toBe(
    'comma-decimals',
  );
  expect(await codeOf(HEAD.replace('cellsize 1', 'cellsize 0') + '1 2 3 4')).toBe(
    'ascii-grid-value-bad',
  );
  expect(await codeOf(HEAD.replace('ncols 2', 'ncols 2.5') + '1 2 3 4')).toBe(
    'ascii-grid-value-bad',
  );
  expect(await codeOf(HEAD.replace('xllcorner 0\n', '') + '1 2 3 4')).toBe(
    'ascii-grid-head-incomplete',
  );
  expect(await codeOf(HEAD.replace('nrows', 'ncols') + '1 2 3 4')).toBe('ascii-grid-key-twice');
  expect(await codeOf(`${HEAD}colour 3\n1 2 3 4`)).toBe('ascii-grid-key-unknown');
});

test('a billion promised columns take no memory', async () => {
  const text = HEAD.replace('ncols 2', 'ncols 1000000000').replace('nrows 2', 'nrows 1000000000');
  expect(await codeOf(`${text}1 2 3 4`)).toBe('ascii-grid-count');
});

test('a window and every second cell of it', async () => {
  const cells = Array.from({ length: 30 }, (_, i) => i).join(' ');
  const from = source(`ncols 6\nnrows 5\nxllcorner 0\nyllcorner 0\ncellsize 1\n${cells}`);
  const header = await openAsciiGrid(from);
  if (!header.ok) throw new Error(header.problem.what);
  const pick = { column: 1, row: 1, width: 4, height: 3, step: 2 };
  const part = await readAsciiGrid(from, header.value, pick);
  expect(part).toMatchObject({ ok: true });
  expect(part.ok && [...part.value]).toEqual([7, 9, 19, 21]);
});

test('stops when asked, with nothing half-read', async () => {
  const from = source(`${HEAD}1 2 3 4`);
  const header = await openAsciiGrid(from);
  if (!header.ok) throw new Error(header.problem.what);
  const pick = { column: 0, row: 0, width: 2, height: 2, step: 1 };
  const result = await readAsciiGrid(from, header.value, pick, { shouldStop: () => true });
  expect(result).toMatchObject({ ok: false, problem: { code: 'stopped' } });
});
