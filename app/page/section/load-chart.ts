import type { createSectionChart } from './section-chart.ts';

/**
 * Loads the chart's code when the first section is opened. The library asks for a number format in
 * the browser's language as it loads, and throws where that is none (some browsers without a window
 * say "C" or nothing): it is told English then, for just that moment.
 */
export async function loadChart(): Promise<typeof createSectionChart> {
  const isSound = isLanguage(navigator.language);
  if (!isSound)
    Object.defineProperty(navigator, 'language', { value: 'en-US', configurable: true });
  try {
    return (await import('./section-chart.ts')).createSectionChart;
  } finally {
    if (!isSound) Reflect.deleteProperty(navigator, 'language');
  }
}

function isLanguage(name: unknown): boolean {
  try {
    return typeof name === 'string' && Intl.getCanonicalLocales(name).length === 1;
  } catch {
    return false;
  }
}
