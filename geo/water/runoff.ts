/**
 * Runoff by curve number. Source: USDA SCS, Technical Release 55 (1986), ch. 2; USDA NRCS, National
 * Engineering Handbook Part 630, ch. 10. Initial abstraction 0.2 S. The method knows no duration: a
 * storm of six hours and one of twenty-four shed the same. Less accurate under half an inch of
 * runoff; not for frozen ground.
 */

const inchMeters = 0.0254;

/**
 * Most that the ground can take up after runoff begins, metres: S = 1000/CN - 10 inches.
 * Throws RangeError for a curve number outside 30 to 100, where the tables end.
 */
export function retentionMeters(curveNumber: number): number {
  if (!(curveNumber >= 30 && curveNumber <= 100)) {
    throw new RangeError(`curve number ${curveNumber} is not within 30 to 100`);
  }
  return (1000 / curveNumber - 10) * inchMeters;
}

/**
 * Depth that runs off, metres: (P - 0.2 S)² / (P + 0.8 S), nothing while P is below 0.2 S.
 * Throws RangeError for rain that is negative or not finite, and as `retentionMeters`.
 * Example: 6.0 in on curve number 70 sheds 2.805 in (TR-55 example 2-1, printed 2.81).
 */
export function runoffMeters(rainMeters: number, curveNumber: number): number {
  if (!(rainMeters >= 0 && rainMeters < Infinity)) {
    throw new RangeError(`rain of ${rainMeters} m`);
  }
  const retention = retentionMeters(curveNumber);
  const abstraction = 0.2 * retention;
  if (rainMeters <= abstraction) return 0;
  return (rainMeters - abstraction) ** 2 / (rainMeters + 0.8 * retention);
}

/** Rain that sheds just so much, metres: the inverse of `runoffMeters` above the abstraction. */
export function rainForRunoff(runoff: number, curveNumber: number): number {
  if (!(runoff >= 0 && runoff < Infinity)) throw new RangeError(`runoff of ${runoff} m`);
  const s = retentionMeters(curveNumber);
  // P² - (0.4 S + Q) P + 0.04 S² - 0.8 S Q = 0, the greater root.
  const half = (0.4 * s + runoff) / 2;
  return half + Math.sqrt(half * half - 0.04 * s * s + 0.8 * s * runoff);
}

/** One curve number for several covers, weighed by their areas; not rounded. */
export function compositeCurveNumber(
  parts: readonly { readonly curveNumber: number; readonly areaSquareMeters: number }[],
): number {
  let area = 0;
  let sum = 0;
  for (const part of parts) {
    area += part.areaSquareMeters;
    sum += part.curveNumber * part.areaSquareMeters;
  }
  if (!(area > 0)) throw new RangeError(`covers of ${area} m² have no curve number`);
  return sum / area;
}

/**
 * Curve number of ground that is in part paved or roofed (98), connected to where water leaves or,
 * for the share `unconnectedShare` of the paved part, not (TR-55 fig. 2-3 and 2-4; the second only
 * up to 30 % paved). Throws RangeError outside those.
 */
export function pavedCurveNumber(
  pervious: number,
  pavedShare: number,
  unconnectedShare = 0,
): number {
  if (!(pavedShare >= 0 && pavedShare <= 1 && unconnectedShare >= 0 && unconnectedShare <= 1)) {
    throw new RangeError(`shares ${pavedShare}, ${unconnectedShare}`);
  }
  if (unconnectedShare > 0 && pavedShare >= 0.3) {
    throw new RangeError(`unconnected paving is for under 30 % paved, not ${pavedShare}`);
  }
  return pervious + pavedShare * (98 - pervious) * (1 - 0.5 * unconnectedShare);
}
