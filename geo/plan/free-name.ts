import type { PlanFeature } from './feature.ts';

/** Names that the tool gives a feature are new in the plan: the sheet and the lists tell by them. */

/** A name may have 200 letters; the rest is room for a number. */
const LONGEST = 194;

/** Every name in a plan. */
export function namesIn(
  features: Readonly<Record<string, PlanFeature>> | readonly PlanFeature[],
): Set<string> {
  return new Set(Object.values(features).map(({ name }) => name));
}

/**
 * A name as it is wished for, or where it is taken with the next free number in place of its own:
 * "Plot A" gives "Plot A 2", "Brush pile 1" gives "Brush pile 2". No name stays none.
 */
export function nextName(wished: string, names: ReadonlySet<string>): string {
  if (wished === '' || !names.has(wished)) return wished;
  const [, stem, number] = /^(.*?)(?: (\d{1,4}))?$/s.exec(wished)!;
  const base = (stem || wished).slice(0, LONGEST);
  for (let n = number === undefined || stem === '' ? 2 : Number(number) + 1; ; n++) {
    const next = `${base} ${n}`;
    if (!names.has(next)) return next;
  }
}

/**
 * A name that ends in another feature's, or where it is taken the same with a number behind: "Beside
 * Plot 1" gives "Beside Plot 1 (2)", as "Beside Plot 2" would be another plot's.
 */
export function nameAfter(wished: string, names: ReadonlySet<string>): string {
  const base = wished.slice(0, LONGEST);
  let free = base;
  for (let n = 2; names.has(free); n++) free = `${base} (${n})`;
  return free;
}
