import type { Page } from 'playwright-core';
import { startRig, watchErrors, type Rig } from './browser.ts';
import { settled } from './map-place.ts';

/** A fresh browser with the demo on the page, its ground and photo on the map. */
interface OpenDemo {
  readonly rig: Rig;
  readonly page: Page;
  /** What has gone wrong on the page so far. */
  readonly errors: readonly string[];
}

/** `flags`: further ones of the browser, see `startRig`. */
export async function openDemo(
  size: { readonly width: number; readonly height: number },
  flags?: readonly string[],
): Promise<OpenDemo> {
  const rig = await startRig('dist', flags);
  try {
    const page = await (await rig.context(size)).newPage();
    const errors = watchErrors(page);
    await page.goto(rig.url);
    await page.locator('[data-testid=map][data-rasters~=photo]').waitFor({ timeout: 60_000 });
    await settled(page);
    return { rig, page, errors };
  } catch (error) {
    await rig.stop();
    throw error;
  }
}
