import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { deflateSync } from 'node:zlib';
import { crc32 } from '../../geo/formats/zip/crc32.ts';
import { wms130, wmts } from '../imagery-samples.ts';

/** A local stand-in for map services: it answers, refuses and misbehaves as public ones do. */
export interface ImageryServer {
  readonly url: string;
  /** Path and query of everything asked for. */
  readonly asked: string[];
  stop(): Promise<void>;
}

export async function startImageryServer(): Promise<ImageryServer> {
  const asked: string[] = [];
  const server: Server = createServer((request, response) => {
    const url = new URL(request.url ?? '/', base);
    asked.push(url.pathname + url.search);
    const allow = { 'access-control-allow-origin': '*' };
    const picture = (color: readonly number[], headers: Record<string, string> = allow) =>
      response.writeHead(200, { 'content-type': 'image/png', ...headers }).end(plainPng(color));
    const text = (type: string, body: string) =>
      response.writeHead(200, { 'content-type': type, ...allow }).end(body);
    const [, kind, z] = url.pathname.split('/');
    if (kind === 'photo') {
      // A cache that ends at level 17.
      if (Number(z) > 17) response.writeHead(404, allow).end();
      else picture([40, 90, 200]);
    } else if (kind === 'no-cors') picture([0, 0, 0], {});
    else if (kind === 'page') text('text/html', '<!doctype html><title>Sign in</title>');
    else if (kind === 'never')
      response.writeHead(200, { 'content-type': 'image/png', ...allow }).write('x');
    else if (kind === 'wfs') text('text/xml', '<WFS_Capabilities version="2.0.0"/>');
    else if (kind === 'wmts.xml') text('text/xml', wmts(base));
    else if (kind === 'rest' || kind === 'kvp' || kind === 'big') picture([200, 60, 40]);
    else if (kind === 'ows') {
      const wanted = url.searchParams.get('REQUEST');
      if (wanted === 'GetCapabilities') text('text/xml', wms130(`${base}/ows?`));
      else picture([60, 160, 60]);
    } else response.writeHead(404, allow).end();
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    url: base,
    asked,
    async stop() {
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
    },
  };
}

/** One colour, 256 × 256, as PNG (RFC 2083). */
export function plainPng([red, green, blue]: readonly number[]): Buffer {
  const size = 256;
  const row = Buffer.alloc(1 + 3 * size);
  for (let i = 0; i < size; i++) row.set([red!, green!, blue!], 1 + 3 * i);
  const head = Buffer.alloc(13);
  head.writeUInt32BE(size, 0);
  head.writeUInt32BE(size, 4);
  head.set([8, 2, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(Buffer.concat(Array<Buffer>(size).fill(row)))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunk(name: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(name), data]);
  const whole = Buffer.alloc(body.length + 8);
  whole.writeUInt32BE(data.length, 0);
  body.copy(whole, 4);
  whole.writeUInt32BE(crc32(body), body.length + 4);
  return whole;
}
