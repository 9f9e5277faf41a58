import { createReadStream, existsSync, mkdirSync, readFileSync, statSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join, normalize } from 'node:path';
import { brotliDecompressSync } from 'node:zlib';
import { spawnSync } from 'node:child_process';
import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core';

/**
 * A real Chromium with WebGL against the BUILT page. The browser named in CHROMIUM_PATH is used when
 * there is one; else, on Linux x64, the one that the package registry carries.
 */
export interface Rig {
  readonly browser: Browser;
  readonly url: string;
  /** A fresh profile: no storage of an earlier test. */
  context(viewport?: { width: number; height: number }): Promise<BrowserContext>;
  stop(): Promise<void>;
}

export const sizes = {
  desk: { width: 1440, height: 900 },
  laptop: { width: 1024, height: 768 },
  phone: { width: 390, height: 844 },
} as const;

// SwiftShader draws WebGL in software, so that a machine without a graphics card runs the tests.
const flags = [
  '--no-sandbox',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--ignore-gpu-blocklist',
  '--disable-background-networking',
  '--disable-component-update',
  '--no-first-run',
];

/**
 * For tests that take pictures: the page is put together in plain memory. Left to SwiftShader as
 * well, one picture of it takes 2 to 4 s instead of 0.1 s. The map is drawn by WebGL all the same.
 */
const forPictures = ['--disable-gpu-compositing', '--disable-accelerated-2d-canvas'];

/** For tests that draw and press: no frame waits until the one before it is on the screen. */
export const forHands: readonly string[] = ['--disable-gpu-rasterization'];

/** `more`: further flags of the browser. */
export async function startRig(
  folder = 'dist',
  more: readonly string[] = forPictures,
): Promise<Rig> {
  if (!existsSync(join(folder, 'index.html'))) {
    throw new Error(`${folder}/index.html is missing: run "npm run build" first.`);
  }
  const { executablePath, env } = await findBrowser();
  const browser = await chromium.launch({ executablePath, args: [...flags, ...more], env });
  const { server, url } = await serve(folder);
  return {
    browser,
    url,
    context: (viewport = sizes.desk) =>
      // The camera goes where it is sent at once: each frame on the way costs half a second here.
      browser.newContext({
        viewport,
        locale: 'en-US',
        timezoneId: 'America/Chicago',
        reducedMotion: 'reduce',
      }),
    async stop() {
      await browser.close();
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
    },
  };
}

async function findBrowser(): Promise<{ executablePath: string; env: Record<string, string> }> {
  const env = Object.fromEntries(
    Object.entries(process.env).filter((pair): pair is [string, string] => pair[1] !== undefined),
  );
  const named = process.env['CHROMIUM_PATH'];
  if (named) return { executablePath: named, env };
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new Error(
      'Browser tests need a Chrome or Chromium here: name its program in CHROMIUM_PATH.',
    );
  }
  const { default: packaged } = await import('@sparticuz/chromium');
  const executablePath = await packaged.executablePath();
  const lib = unpackLibraries();
  return {
    executablePath,
    env: { ...env, LD_LIBRARY_PATH: [lib, env['LD_LIBRARY_PATH']].filter(Boolean).join(':') },
  };
}

/** The package carries the system libraries that a bare machine lacks, as a brotli-packed tar. */
function unpackLibraries(): string {
  const target = join(tmpdir(), 'assart-chromium-libraries');
  const lib = join(target, 'lib');
  if (existsSync(join(lib, 'libnss3.so'))) return lib;
  mkdirSync(target, { recursive: true });
  const packed = readFileSync('node_modules/@sparticuz/chromium/bin/al2023.tar.br');
  const made = spawnSync('tar', ['-x', '-C', target], { input: brotliDecompressSync(packed) });
  if (made.status !== 0)
    throw new Error(`Could not unpack the browser's libraries: ${made.stderr}`);
  return lib;
}

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.mjs': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.tif': 'image/tiff',
  '.jpg': 'image/jpeg',
  '.woff2': 'font/woff2',
};

/** A plain static server on a free loopback port, with range requests. */
export async function serve(folder: string): Promise<{ server: Server; url: string }> {
  const server = createServer((request, response) => {
    const path = normalize(decodeURIComponent((request.url ?? '/').split('?')[0]!));
    const file = join(folder, path.endsWith('/') ? `${path}index.html` : path);
    if (!existsSync(file) || statSync(file).isDirectory()) {
      response.writeHead(404).end('not found');
      return;
    }
    const { size } = statSync(file);
    const range = /^bytes=(\d+)-(\d*)$/.exec(request.headers.range ?? '');
    const start = range ? Number(range[1]) : 0;
    const end = range?.[2] ? Math.min(Number(range[2]), size - 1) : size - 1;
    response.writeHead(range ? 206 : 200, {
      'content-type': types[extname(file)] ?? 'application/octet-stream',
      'content-length': end - start + 1,
      'accept-ranges': 'bytes',
      ...(range ? { 'content-range': `bytes ${start}-${end}/${size}` } : {}),
    });
    createReadStream(file, { start, end }).pipe(response);
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return { server, url: `http://127.0.0.1:${address.port}/` };
}

/** What went wrong on a page: console errors and uncaught exceptions, for a test to expect none. */
export function watchErrors(page: Page): string[] {
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  return errors;
}
