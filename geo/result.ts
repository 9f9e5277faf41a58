/**
 * How a problem that the user can cause travels: as a value, never as an exception.
 * Programmer errors (a grid of the wrong length, an index out of range) throw RangeError instead.
 */

export interface Problem {
  /** Stable name for tests and translations, e.g. `vertical-unit-unknown`. */
  readonly code: string;
  /** One plain sentence: what is wrong. */
  readonly what: string;
  /** File, feature, line or key where it is wrong, when there is one. */
  readonly where?: string;
  /** One plain sentence: what the user can do about it. */
  readonly wayOut: string;
}

export type Result<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: Problem };

export function ok<T>(value: T): Result<T> {
  return { ok: true, value };
}

export function problem(code: string, what: string, wayOut: string, where?: string): Result<never> {
  return {
    ok: false,
    problem: where === undefined ? { code, what, wayOut } : { code, what, wayOut, where },
  };
}
