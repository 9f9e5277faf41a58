import type { Finding } from '../../../geo/answers/finding.ts';
import { inOrder, sentenceOf, type Sentence } from '../../words/findings.ts';
import type { UnitSystem } from '../../words/format.ts';

/** A finding as a line of a list. */
export interface FindingLine extends Sentence {
  /** Unique in the list, and the same while only the finding's values change. */
  readonly key: string;
  readonly level: Finding['level'];
}

/**
 * Findings as they are read, stops first, those of one wording once. `namesOf`: what the sentence
 * begins with.
 */
export function findingLines(
  findings: readonly Finding[],
  units: UnitSystem,
  namesOf: (finding: Finding) => readonly string[],
): FindingLine[] {
  const said = new Set<string>();
  const keyed = new Map<string, number>();
  return inOrder(findings).flatMap((finding) => {
    const { lead, rest } = sentenceOf(finding, units);
    const names = namesOf(finding);
    const led = names.length > 0 ? `${names.join(', ')}: ${lowerFirst(lead)}` : lead;
    const wording = JSON.stringify([finding.level, led, rest]);
    if (said.has(wording)) return [];
    said.add(wording);
    const of = `${finding.code} ${finding.about.join(' ')}`;
    const before = keyed.get(of) ?? 0;
    keyed.set(of, before + 1);
    return [{ key: `${of} ${before}`, level: finding.level, lead: led, rest }];
  });
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
