import type { Problem } from '../../result.ts';

/**
 * How a problem of a vector file travels inside this folder, from where it shows to the door where
 * it becomes a value. Nothing outside `vector/` sees it.
 */
export class VectorError extends Error {
  readonly problem: Problem;
  constructor(code: string, what: string, wayOut: string, where?: string) {
    super(`${code}: ${what}`);
    this.problem = where === undefined ? { code, what, wayOut } : { code, what, wayOut, where };
  }
}

export const FETCH_AGAIN =
  'Copy or download the file again; if it still fails, export it again from the program that made it.';

/** How much may still come in: what no site plan needs is refused before it fills the memory. */
export interface Limits {
  positions: number;
  features: number;
}

export function freshLimits(): Limits {
  return { positions: 4_000_000, features: 100_000 };
}

/** Counts positions off. Throws VectorError when there are too many. */
export function takePositions(limits: Limits, count: number): void {
  limits.positions -= count;
  if (limits.positions < 0) throw tooMuch('more than four million points');
}

/** Counts features off. Throws VectorError when there are too many. */
export function takeFeatures(limits: Limits, count: number): void {
  limits.features -= count;
  if (limits.features < 0) throw tooMuch('more than 100,000 features');
}

function tooMuch(how: string): VectorError {
  return new VectorError(
    'vector-too-large',
    `The file holds ${how}.`,
    'Export only the part around your ground, and open that.',
  );
}
