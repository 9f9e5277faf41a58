import type { RawPlan } from '../../geo/plan/raw-plan.ts';

/** Project files as they leave the page and come in. */

/** "Kite hollow" on a day gives `kite-hollow-2026-08-01.zip`, which every file system takes. */
export function projectFileName(siteName: string, now: number): string {
  const name = siteName
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  const day = new Date(now);
  const two = (number: number) => String(number).padStart(2, '0');
  const date = `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
  return `${name || 'site-plan'}-${date}.zip`;
}

/**
 * A plan from a file as it goes into this browser. Online imagery that it names stays listed and is
 * switched off: nothing is fetched from the network until this browser's user chooses it. The value
 * says how many layers that were.
 */
export function planForOpening(plan: RawPlan): { plan: RawPlan; switchedOff: number } {
  const { imagery } = plan.settings;
  if (!Array.isArray(imagery)) return { plan, switchedOff: 0 };
  const isShown = (layer: unknown) => (layer as { shown?: unknown } | null)?.shown === true;
  const off = imagery.map((layer: unknown) =>
    isShown(layer) ? { ...(layer as object), shown: false } : layer,
  );
  return {
    plan: { ...plan, settings: { ...plan.settings, imagery: off } },
    switchedOff: imagery.filter(isShown).length,
  };
}

/** Hands a file to the user as the browser's own downloads do. */
export function downloadFile(file: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // The download has begun by then; at once would be too soon for some browsers.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
