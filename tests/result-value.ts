import type { Result } from '../geo/result.ts';

/** The value of a result that has to be one; throws what is wrong otherwise. */
export function valueOf<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(`${result.problem.code}: ${result.problem.what}`);
  return result.value;
}

/** The code of a problem that has to be one, after a look at its words. */
export function problemOf(result: Result<unknown>): string {
  if (result.ok) throw new Error(`no problem: ${JSON.stringify(result.value)}`);
  const { code, what, wayOut } = result.problem;
  for (const sentence of [what, wayOut]) {
    if (!/^[A-Z].*[.?]$/.test(sentence)) throw new Error(`not a sentence: ${sentence}`);
  }
  return code;
}
