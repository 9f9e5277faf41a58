import { machineClasses, type CountRow, type MachineClass } from './tree-count.ts';

/** Where the published table has no such machine. */
export type OffMachines =
  | { readonly code: 'machine-below-table'; readonly leastWatts: number }
  | { readonly code: 'machine-above-table'; readonly mostWatts: number }
  | { readonly code: 'machine-between-rows'; readonly nextWatts: readonly [number, number] };

/** Figures for one machine; hours by them are to be taken `factor` times. */
export interface MachineRow extends MachineClass {
  readonly factor: number;
  readonly off: OffMachines | null;
}

/** As near as this counts as in a row: the table's power is rounded. */
const SAME_SHARE = 0.02;

/**
 * Figures of a machine by the power of its engine, watts: its row of the table; between two rows
 * what lies between them (no figure where either has none); weaker than the weakest, 165 hp, that
 * one's times their ratio of power (common practice, no source); stronger than the strongest, that
 * one's. All but the first say so. Throws RangeError for a power that is not above 0.
 * Example: 100 hp takes 1.65 times what 165 hp does.
 */
export function machineRow(powerWatts: number): MachineRow {
  if (!(powerWatts > 0 && powerWatts < Infinity)) throw new RangeError(`${powerWatts} W`);
  const near = machineClasses.find((one) => Math.abs(powerWatts / one.powerWatts - 1) <= SAME_SHARE); // prettier-ignore
  if (near) return { ...near, factor: 1, off: null };
  const [weakest, strongest] = [machineClasses[0]!, machineClasses.at(-1)!];
  if (powerWatts < weakest.powerWatts) {
    const off = { code: 'machine-below-table', leastWatts: weakest.powerWatts } as const;
    return { ...weakest, factor: weakest.powerWatts / powerWatts, off };
  }
  if (powerWatts > strongest.powerWatts) {
    const off = { code: 'machine-above-table', mostWatts: strongest.powerWatts } as const;
    return { ...strongest, factor: 1, off };
  }
  const above = machineClasses.findIndex((one) => one.powerWatts > powerWatts);
  const [lower, upper] = [machineClasses[above - 1]!, machineClasses[above]!];
  const share = (powerWatts - lower.powerWatts) / (upper.powerWatts - lower.powerWatts);
  return {
    powerWatts,
    felling: between(lower.felling, upper.felling, share),
    piling: between(lower.piling, upper.piling, share),
    factor: 1,
    off: { code: 'machine-between-rows', nextWatts: [lower.powerWatts, upper.powerWatts] },
  };
}

function between(a: CountRow, b: CountRow, share: number): CountRow {
  const mix = (p: number, q: number) => p + (q - p) * share;
  const mixKnown = (p: number | null, q: number | null) =>
    p === null || q === null ? null : mix(p, q);
  const [a1, a2, a3, a4] = a.minutesPerTree;
  const [b1, b2, b3, b4] = b.minutesPerTree;
  return {
    minutesPerHectare: mix(a.minutesPerHectare, b.minutesPerHectare),
    minutesPerTree: [mix(a1, b1), mix(a2, b2), mixKnown(a3, b3), mixKnown(a4, b4)],
    minutesPerMeter: mixKnown(a.minutesPerMeter, b.minutesPerMeter),
  };
}
