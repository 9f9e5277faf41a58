import { metersFromFeet } from '../../frame/units.ts';

/** Something read from words, and where it stood in them. */
export interface Found {
  readonly value: number;
  readonly start: number;
  readonly end: number;
}

/** The words without what was found in them. */
export function cut(words: string, { start, end }: Found): string {
  return `${words.slice(0, start)} | ${words.slice(end)}`;
}

const unitMeters: readonly (readonly [RegExp, number])[] = [
  [/^ch(?:ains?|s)?$/i, metersFromFeet(66)],
  [/^l(?:in)?ks?$/i, metersFromFeet(0.66)],
  [/^(?:poles?|rods?|rd|perch(?:es)?|po)$/i, metersFromFeet(16.5)],
  [/^(?:f(?:ee)?t|foot|')$/i, metersFromFeet(1)],
  [/^(?:in(?:ch(?:es)?)?|")$/i, metersFromFeet(1 / 12)],
  [/^y(?:ar)?ds?$/i, metersFromFeet(3)],
  [/^mi(?:les?)?$/i, metersFromFeet(5280)],
  [/^m(?:et(?:er|re)s?)?$/i, 1],
];
const measure = /(?<![\d.])(\d+(?:\.\d*)?|\.\d+)\s*([a-z]+\b|'|")/gi;

/**
 * The first distance in some words, metres, with its second part in a smaller unit where one
 * follows ("12 chains 40 links", "200 ft 6 in"). A number without a known unit is none.
 * International feet; a chain is 66 of them, a link 0.66, a rod, pole or perch 16.5.
 */
export function findDistance(words: string): Found | null {
  let first: (Found & { unit: number }) | null = null;
  for (const m of words.matchAll(measure)) {
    const unit = unitMeters.find(([name]) => name.test(m[2]))?.[1];
    if (unit === undefined) continue;
    const value = Number(m[1]) * unit;
    const end = m.index + m[0].length;
    if (!first) first = { value, start: m.index, end, unit };
    else if (unit < first.unit && /^[\s,.]*(?:and)?[\s,]*$/.test(words.slice(first.end, m.index))) {
      return { value: first.value + value, start: first.start, end };
    } else break;
  }
  return first;
}
