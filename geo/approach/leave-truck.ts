/**
 * When to leave the truck to sit quietly by a moment: so many seconds of settling before it, the walk
 * before that, brought forward to the whole minute. UTC milliseconds in and out.
 * Throws RangeError for times that are not finite or below 0.
 * Example: legal light at 06:30:20, 25 min to settle, a walk of 17 min 10 s: 05:48.
 */
export function leaveTruckAt(
  readyUtcMilliseconds: number,
  settleSeconds: number,
  walkSeconds: number,
): number {
  const seconds = settleSeconds + walkSeconds;
  const isFine = settleSeconds >= 0 && walkSeconds >= 0 && Number.isFinite(seconds);
  if (!isFine || !Number.isFinite(readyUtcMilliseconds)) {
    throw new RangeError(`${settleSeconds} s and ${walkSeconds} s before ${readyUtcMilliseconds}`);
  }
  return Math.floor((readyUtcMilliseconds - 1000 * seconds) / 60_000) * 60_000;
}
