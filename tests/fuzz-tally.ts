import { expect } from 'vitest';
import type { Problem } from '../geo/result.ts';

/** Nothing may take longer. */
const LONGEST_MS = 5000;

/** How reading one damaged file ended, and whatever else was refused on the way. */
export interface FuzzEnd {
  readonly end: string;
  readonly problems?: readonly Problem[];
}

/** Counts how damaged files end; every refusal must have its code and its words. */
export function fuzzTally() {
  const ends = new Map<string, number>();
  let longest = { milliseconds: 0, name: '' };
  return {
    ends,
    /** `name` tells the case, so that it can be run again alone. */
    async take(name: string, read: () => Promise<FuzzEnd>): Promise<void> {
      const start = performance.now();
      let ending;
      try {
        ending = await read();
      } catch (error) {
        throw new Error(name, { cause: error });
      }
      const milliseconds = performance.now() - start;
      if (milliseconds > longest.milliseconds) longest = { milliseconds, name };
      for (const { code, what, wayOut } of ending.problems ?? []) {
        if (!code || !what || !wayOut || /undefined|\[object/.test(what + wayOut))
          throw new Error(`${name}: a refusal without words: ${code}: ${what} ${wayOut}`);
      }
      ends.set(ending.end, (ends.get(ending.end) ?? 0) + 1);
    },
    /** How many ended so; `end` may be the beginning of the name of an end. */
    count: (end: string) =>
      [...ends].reduce((sum, [name, n]) => sum + (name.startsWith(end) ? n : 0), 0),
    close(): void {
      if (process.env['ASSART_FUZZ_FILES']) console.log(longest, [...ends].sort());
      expect(longest.milliseconds, longest.name).toBeLessThan(LONGEST_MS);
    },
  };
}

/** The end of a refusal is its code. */
export function refusal(problem: Problem): FuzzEnd {
  return { end: `refused ${problem.code}`, problems: [problem] };
}
