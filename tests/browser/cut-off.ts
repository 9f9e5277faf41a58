import type { Page } from 'playwright-core';

/**
 * What of the panels and dialogs in sight does not fit its box, so that it is cut off or needs a
 * scroll sideways: elements wider inside than out (CSSOM View, scrollWidth over clientWidth), and
 * choices whose text is wider than their field, which no scrollWidth tells.
 */
export function cutOff(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const slack = 1; // Widths are rounded to whole pixels.
    const isShown = (element: Element) =>
      element.getClientRects().length > 0 && !element.closest('.out-of-sight, svg');
    const roots = document.querySelectorAll('.margin, .what, dialog[open]');
    const all = [...roots].flatMap((root) => [root, ...root.querySelectorAll('*')]);
    const canvas = document.createElement('canvas').getContext('2d')!;
    return all.filter(isShown).flatMap((element) => {
      const style = getComputedStyle(element);
      let inside = element.scrollWidth;
      if (element instanceof HTMLSelectElement) {
        canvas.font = style.font;
        const { width } = canvas.measureText(element.selectedOptions[0]?.text ?? '');
        inside = width + parseFloat(style.paddingLeft) + parseFloat(style.paddingRight);
      }
      // The box of an inline element has no client width.
      if (element.clientWidth === 0 || inside <= element.clientWidth + slack) return [];
      const text = (element.textContent ?? '').slice(0, 40);
      return [`${element.tagName} ${element.className}: ${inside} in ${element.clientWidth}, ${text}`]; // prettier-ignore
    });
  });
}

/** Numbers in sight that stand on another line than their sign or unit. */
export function brokenQuantities(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const broken: string[] = [];
    const walker = document.createTreeWalker(
      document.querySelector('.page')!,
      NodeFilter.SHOW_TEXT,
    );
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const text = node.nodeValue ?? '';
      for (const match of text.matchAll(
        /\d (?:%|ft|yd|yd³|ac|mph|min|h|in(?! [a-z]))(?![\w²³])/g,
      )) {
        const range = document.createRange();
        range.setStart(node, match.index);
        range.setEnd(node, match.index + match[0].length);
        const lines = new Set([...range.getClientRects()].map(({ top }) => Math.round(top)));
        if (lines.size > 1)
          broken.push(text.slice(Math.max(0, match.index - 20), match.index + 10));
      }
    }
    return broken;
  });
}

/** Opens every fold of the panels, so that nothing is hidden from `cutOff`. */
export async function openFolds(page: Page): Promise<void> {
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll('details')) fold.open = true;
  });
}
