import type { Finding } from './finding.ts';

/** Codes that both of two features say of each other. */
const MUTUAL: ReadonlySet<string> = new Set(['stand-in-arc']);

/** Codes that every feature says alike, since they are about the plan. */
const OF_THE_PLAN: ReadonlySet<string> = new Set(['shots-no-line']);

/**
 * What several features say, as one list: what two say of each other once, under the one that looks
 * toward the other (`from-here`), else the one that comes first, and without the other's name in its
 * values, as both are in `about`; what is so of the whole plan once, about none of them. The rest
 * stays as it is, in the order given. Units as in the findings; throws nothing.
 */
export function jointFindings(findings: readonly Finding[]): readonly Finding[] {
  const pairs = new Map<string, Finding>();
  for (const one of findings) {
    if (!MUTUAL.has(one.code)) continue;
    const key = pairOf(one);
    const first = pairs.get(key);
    if (!first || (first.values['way'] === 'to-here' && one.values['way'] === 'from-here')) {
      pairs.set(key, one);
    }
  }
  const said = new Set<string>();
  const firstTime = (key: string): boolean => !said.has(key) && said.add(key).size > 0;
  return findings.flatMap((one): Finding[] => {
    if (MUTUAL.has(one.code)) {
      const key = pairOf(one);
      if (!firstTime(key)) return [];
      const { values, ...kept } = pairs.get(key)!;
      return [{ ...kept, values: { ...values, other: null } }];
    }
    if (OF_THE_PLAN.has(one.code)) return firstTime(one.code) ? [{ ...one, about: [] }] : [];
    return [one];
  });
}

function pairOf({ code, about }: Finding): string {
  return [code, ...[...about].sort()].join(' ');
}
