import { createServer, type RequestListener, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, expect, test } from 'vitest';
import { openRangeSource } from '../../app/workers/range-source.ts';

const BYTES = Uint8Array.from({ length: 50_000 }, (_, i) => (i * 7) % 256);
let server: Server | null = null;

afterEach(() => new Promise<void>((done) => (server ? server.close(() => done()) : done())));

async function serve(listener: RequestListener): Promise<string> {
  server = createServer(listener);
  await new Promise<void>((done) => server!.listen(0, '127.0.0.1', done));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}/ground%20one.tif?key=1`;
}

const codeOf = async (address: string) => {
  const opened = await openRangeSource(address);
  return opened.ok ? 'opened' : opened.problem.code;
};

/** Range answers as RFC 9110 §14 and §15.3.7 lay them down. */
const ranges: RequestListener = (request, response) => {
  const found = /bytes=(\d+)-(\d+)/.exec(request.headers.range ?? '');
  if (!found) return void response.writeHead(200, { 'content-length': BYTES.length }).end(BYTES);
  const [from, to] = [Number(found[1]), Math.min(Number(found[2]), BYTES.length - 1)];
  response.writeHead(206, { 'content-range': `bytes ${from}-${to}/${BYTES.length}` });
  response.end(BYTES.subarray(from, to + 1));
};

test('reads any part, and not past the end', async () => {
  const opened = await openRangeSource(await serve(ranges));
  if (!opened.ok) throw new Error(opened.problem.what);
  const source = opened.value;
  expect([source.name, source.size]).toEqual(['ground one.tif', 50_000]);
  for (const [offset, length] of [
    [0, 8],
    [16_380, 10],
    [49_990, 100],
    [50_000, 5],
  ] as const) {
    expect(await source.read(offset, length)).toEqual(BYTES.slice(offset, offset + length));
  }
});

test('length from HEAD where the server hides Content-Range', async () => {
  const address = await serve((request, response) => {
    if (request.method === 'HEAD')
      response.writeHead(200, { 'content-length': BYTES.length }).end();
    else response.writeHead(206).end(BYTES.subarray(0, 100));
  });
  const opened = await openRangeSource(address);
  expect(opened.ok && opened.value.size).toBe(50_000);
});

test('each fault by its code', async () => {
  expect(await codeOf('ground.tif')).toBe('address-bad');
  expect(await codeOf('file:///etc/hosts')).toBe('address-bad');
  expect(await codeOf('http://127.0.0.1:9/x.tif')).toBe('address-unreachable');
  const answers: [number, Record<string, string>, string][] = [
    [404, {}, 'address-not-found'],
    [403, {}, 'address-forbidden'],
    [500, {}, 'address-refused'],
    [416, {}, 'file-empty'],
    [200, {}, 'address-no-ranges'],
    [200, { 'content-type': 'text/html; charset=utf-8' }, 'address-is-page'],
    [206, {}, 'address-no-length'],
  ];
  let turn = 0;
  const address = await serve((request, response) => {
    const [status, headers] = answers[turn]!;
    if (request.method === 'HEAD') response.writeHead(405).end();
    else response.writeHead(status, headers).end('hello');
  });
  for (; turn < answers.length; turn++) expect(await codeOf(address)).toBe(answers[turn]![2]);
});

test('a read that fails later says so in a plain sentence', async () => {
  let reads = 0;
  const address = await serve((request, response) => {
    if (reads++ === 0) ranges(request, response);
    else response.writeHead(503).end();
  });
  const opened = await openRangeSource(address);
  if (!opened.ok) throw new Error(opened.problem.what);
  await expect(opened.value.read(20_000, 10)).rejects.toThrow(/503 in the middle/);
});
