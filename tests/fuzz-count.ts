/**
 * How many damaged files a fuzz tries: a few in CI; `ASSART_FUZZ_FILES=20000` names how many all of
 * them together try, of which each has its share.
 */
export function fuzzCount(inCi: number, share: number): number {
  const all = Number(process.env['ASSART_FUZZ_FILES'] ?? NaN);
  return Number.isFinite(all) ? Math.ceil(all * share) : inCi;
}
