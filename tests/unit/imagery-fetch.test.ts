import { createServer, type RequestListener, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, expect, test } from 'vitest';
import { fetchWithin } from '../../app/services/imagery-fetch.ts';
import { notAPicture } from '../../app/services/imagery-not-picture.ts';

let server: Server | null = null;
afterEach(() => {
  server?.closeAllConnections();
  server?.close();
});

async function serve(listener: RequestListener): Promise<string> {
  server = createServer(listener);
  await new Promise<void>((ready) => server!.listen(0, '127.0.0.1', ready));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}/tile`;
}

const limits = { milliseconds: 400, mostBytes: 5000 };
const never = new AbortController().signal;
const codeOf = async (listener: RequestListener) => {
  const fetched = await fetchWithin(await serve(listener), never, limits);
  return fetched.ok ? 'fetched' : fetched.problem.code;
};

test('an answer comes whole, with its kind', async () => {
  const url = await serve((_request, response) => {
    response.writeHead(200, { 'content-type': 'image/png' }).end(Buffer.alloc(4999, 7));
  });
  const fetched = await fetchWithin(url, never, limits);
  if (!fetched.ok) throw new Error(fetched.problem.what);
  expect([fetched.value.bytes.length, fetched.value.bytes[4998], fetched.value.type]).toEqual([
    4999,
    7,
    'image/png',
  ]);
});

test('one that never ends is given up: silent, slow or without end', async () => {
  expect(await codeOf(() => undefined)).toBe('imagery-slow');
  expect(
    await codeOf((_request, response) => {
      response.writeHead(200);
      const drip = setInterval(() => response.write('x'), 20);
      response.on('close', () => clearInterval(drip));
    }),
  ).toBe('imagery-slow');
  expect(
    await codeOf((_request, response) => {
      response.writeHead(200);
      const pour = () => {
        while (!response.destroyed && response.write(Buffer.alloc(1000)));
        if (!response.destroyed) response.once('drain', pour);
      };
      pour();
    }),
  ).toBe('imagery-endless');
});

test('refusals are told apart', async () => {
  const status = (code: number) =>
    codeOf((_request, response) => void response.writeHead(code).end());
  expect(await status(404)).toBe('imagery-no-tile');
  expect(await status(204)).toBe('imagery-no-tile');
  expect(await status(403)).toBe('imagery-forbidden');
  expect(await status(500)).toBe('imagery-error');
  const gone = await fetchWithin('http://127.0.0.1:1/', never, limits);
  expect(gone.ok ? '' : gone.problem.code).toBe('imagery-unreachable');
});

test('stopped by the user it rejects, and is no fault of the server', async () => {
  const stopper = new AbortController();
  const asked = fetchWithin(await serve(() => undefined), stopper.signal, limits);
  stopper.abort();
  await expect(asked).rejects.toThrow();
});

test('what came in place of a picture is named', () => {
  const said = (text: string, type = '') => {
    const bytes = new TextEncoder().encode(text);
    return notAPicture({ bytes, type, url: 'https://a.test/1' }).code;
  };
  expect(said('<!doctype html><p>Sign in</p>')).toBe('imagery-is-page');
  expect(said('Sign in', 'text/html; charset=utf-8')).toBe('imagery-is-page');
  expect(
    said(
      '<ServiceExceptionReport><ServiceException>no layer</ServiceException></ServiceExceptionReport>',
    ),
  ).toBe('imagery-service-refuses');
  expect(said('{"error": 1}')).toBe('imagery-not-picture');
});
