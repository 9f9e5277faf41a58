/**
 * Signs of planar determinants, exact for whole-number coordinates up to 2^52 apart: doubles first,
 * whole big integers where rounding could decide.
 * Source: the filter is the usual static error bound of a 2 × 2 determinant (Shewchuk 1997,
 * Discrete & Computational Geometry 18:305–363, its first stage).
 */

/** Four rounding errors of 2^-53 of the products, with room to spare. */
const bound = 8.9e-16;

/**
 * Above 0 where c lies left of the way from a to b, below 0 right of it, 0 on its line; only the
 * sign is exact. Whole numbers in any unit. Example: (0,0) to (1,0) and (0,1) give 1.
 */
export function turn(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
): number {
  const l = (bx - ax) * (cy - ay);
  const r = (by - ay) * (cx - ax);
  const det = l - r;
  if (Math.abs(det) > bound * (Math.abs(l) + Math.abs(r))) return det;
  if (l === 0 && r === 0) return 0;
  return Number(wholeDeterminant(ax, ay, bx, by, cx, cy));
}

/**
 * True where the straight piece from a to b, its line taken without end, passes through the unit
 * square centred on c. The square's west and south sides and its south-west corner belong to it,
 * the others to its neighbours, so that every place is in one square. Whole numbers in units.
 */
export function passesSquare(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
): boolean {
  const l = (bx - ax) * (cy - ay);
  const r = (by - ay) * (cx - ax);
  const reach = (Math.abs(bx - ax) + Math.abs(by - ay)) / 2;
  const over = Math.abs(l - r) - reach;
  if (Math.abs(over) > bound * (Math.abs(l) + Math.abs(r) + reach)) return over < 0;
  const det = wholeDeterminant(ax, ay, bx, by, cx, cy);
  const past = 2n * (det < 0n ? -det : det) - BigInt(2 * reach);
  if (past !== 0n) return past < 0n;
  // The line runs through a corner only; from north-west to south-east, on the south-west side.
  return bx > ax ? by < ay && det > 0n : by > ay && det < 0n;
}

function wholeDeterminant(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
): bigint {
  return BigInt(bx - ax) * BigInt(cy - ay) - BigInt(by - ay) * BigInt(cx - ax);
}

/**
 * Where the pieces a–b and c–d cross, rounded to whole numbers (halves up), worked in whole big
 * integers. The pieces must cross properly: neither touches the other's end.
 */
export function crossingOf(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): [number, number] {
  const from = wholeDeterminant(cx, cy, dx, dy, ax, ay);
  const to = wholeDeterminant(cx, cy, dx, dy, bx, by);
  // from / (from - to) of the way along a–b; the two have opposite signs.
  const positive = from > 0n;
  const share = positive ? from : -from;
  const whole = positive ? from - to : to - from;
  return [along(ax, bx, share, whole), along(ay, by, share, whole)];
}

function along(from: number, to: number, share: bigint, whole: bigint): number {
  const doubled = 2n * BigInt(to - from) * share + whole;
  const divisor = 2n * whole;
  let quotient = doubled / divisor;
  // BigInt division cuts toward zero; a floor is wanted.
  if (doubled < 0n && quotient * divisor !== doubled) quotient -= 1n;
  return from + Number(quotient);
}
