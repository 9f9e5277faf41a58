import type { Page } from 'playwright-core';

/**
 * From pixels of the map to degrees and back, by the web-mercator formula (512-pixel world at zoom
 * 0), from the camera that the map element states. The page's own code is not asked.
 */
export interface MapPlace {
  toPixel(lng: number, lat: number): { x: number; y: number };
  toLngLat(x: number, y: number): [number, number];
}

export async function mapPlace(page: Page): Promise<MapPlace> {
  const host = page.getByTestId('map');
  await page.waitForFunction(
    () => document.querySelector<HTMLElement>('[data-testid=map]')?.dataset['zoom'] !== undefined,
  );
  const box = (await host.boundingBox())!;
  const [lng0, lat0] = (await host.getAttribute('data-center'))!.split(',').map(Number);
  const world = 512 * 2 ** Number(await host.getAttribute('data-zoom'));
  const mercatorX = (lng: number) => (world * (lng + 180)) / 360;
  const mercatorY = (lat: number) =>
    (world * (1 - Math.asinh(Math.tan((lat * Math.PI) / 180)) / Math.PI)) / 2;
  const left = mercatorX(lng0!) - (box.x + box.width / 2);
  const top = mercatorY(lat0!) - (box.y + box.height / 2);
  return {
    toPixel: (lng, lat) => ({ x: mercatorX(lng) - left, y: mercatorY(lat) - top }),
    toLngLat: (x, y) => [
      ((x + left) / world) * 360 - 180,
      (Math.atan(Math.sinh(Math.PI * (1 - (2 * (y + top)) / world))) * 180) / Math.PI,
    ],
  };
}

/**
 * Resolves when the map has nothing left to load or draw and the worker nothing left to answer, and
 * so for some frames on end: a press that was just made first shows a frame or two later.
 */
export async function settled(page: Page): Promise<void> {
  const since = `settled${asked++}`;
  await page.waitForFunction(
    (name) => {
      const { assart, ...frames } = globalThis as unknown as Record<string, unknown>;
      const { session } = assart as { session: { getState(): { working: unknown } } };
      const host = document.querySelector<HTMLElement>('[data-testid=map]');
      const isQuiet = host?.dataset['idle'] === 'yes' && session.getState().working === null;
      const quiet = isQuiet ? Number(frames[name] ?? 0) + 1 : 0;
      Object.assign(globalThis, { [name]: quiet });
      return quiet > 8;
    },
    since,
    { timeout: 60_000, polling: 'raf' },
  );
}
let asked = 0;
