import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { build } from 'vite';
import type { PhotoRead } from '../bench/pages/read-photo/photo-worker.ts';
import { openGdal } from '../gdal.ts';
import { startRig, type Rig } from './browser.ts';

/**
 * JPEG blocks unpacked by the browser itself. Truth: what native GDAL 3.6.2 (libjpeg) makes of the
 * same files, stored beside them (tests/fixtures/geotiff/README.md).
 */

let rig: Rig;
let page: Page;
const folder = mkdtempSync(join(tmpdir(), 'assart-photo-'));

beforeAll(async () => {
  await build({
    root: 'tests/bench/pages/read-photo',
    base: './',
    configFile: false,
    logLevel: 'error',
    worker: { format: 'es' },
    build: { outDir: folder, emptyOutDir: true, target: 'es2023' },
  });
  rig = await startRig(folder);
  page = await (await rig.context()).newPage();
  await page.goto(rig.url);
});
afterAll(async () => {
  await rig?.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function read(file: string, natively: boolean): Promise<PhotoRead> {
  await page.setInputFiles('input', file);
  return page.evaluate(
    (own) =>
      (globalThis as unknown as { readPhoto(own: boolean): Promise<PhotoRead> }).readPhoto(own),
    natively,
  );
}

async function decodedByGdal(name: string): Promise<number[][]> {
  const gdal = await openGdal();
  const path = gdal.write(`${name}.tif`, readFileSync(`tests/fixtures/geotiff/${name}.tif`));
  const bands: number[][] = [];
  for (const band of ['1', '2', '3']) {
    const one = await gdal.run('gdal_translate', path, ['-of', 'GTiff', '-b', band], 'band.tif');
    bands.push([...(await gdal.band(one)).data]);
  }
  return bands;
}

test.each(['photo-jpeg-ycbcr', 'photo-jpeg-rgb-mask'])('%s: as GDAL unpacks it', async (name) => {
  const mine = await read(`tests/fixtures/geotiff/${name}.tif`, true);
  expect([mine.problem, mine.width, mine.height]).toEqual([null, 96, 64]);
  const theirs = await decodedByGdal(`${name}-decoded`);
  let worst = 0;
  let seen = 0;
  for (let i = 0; i < 96 * 64; i++) {
    if (mine.pixels[4 * i + 3] !== 255) continue;
    seen++;
    for (let k = 0; k < 3; k++) {
      worst = Math.max(worst, Math.abs(mine.pixels[4 * i + k]! - theirs[k]![i]!));
    }
  }
  expect(seen).toBe(name.endsWith('mask') ? 86 * 64 : 96 * 64);
  // Both are libjpeg's: a level or two for another inverse cosine transform.
  expect(worst).toBeLessThanOrEqual(2);
});
