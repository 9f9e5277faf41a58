import type { Page } from 'playwright-core';

/** What axe-core finds wrong with the page for people who do not see or point. */
export async function faults(page: Page): Promise<string[]> {
  const isThere = await page.evaluate(() => 'axe' in globalThis);
  if (!isThere) await page.addScriptTag({ path: 'node_modules/axe-core/axe.min.js' });
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
    };
    const { violations } = await axe.run();
    return violations.map((v) => `${v.id}: ${v.nodes[0]?.html ?? ''}`);
  });
}
