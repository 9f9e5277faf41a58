/** A trapezoid: bottom width in metres, sides in metres out for a metre up. */
export interface Trapezoid {
  readonly bottomWidthMeters: number;
  readonly sideRun: number;
}

export interface NormalFlow {
  readonly depthMeters: number;
  readonly metersPerSecond: number;
  /** Width of the water, metres. */
  readonly topWidthMeters: number;
}

/**
 * Mean speed by Manning's formula, metres a second: R^(2/3) s^(1/2) / n, R the hydraulic radius.
 * Example: 27 ft² over 28.2 ft at 0.5 % and n 0.05: 2.05 ft/s (TR-55 example 3-1).
 */
export function manningSpeed(radiusMeters: number, slopeRatio: number, roughness: number): number {
  return (Math.cbrt(radiusMeters) ** 2 * Math.sqrt(slopeRatio)) / roughness;
}

/**
 * Depth at which a flow runs evenly in a trapezoid, by halving: to a millionth of itself.
 * Throws RangeError for a flow below 0 and for a slope, roughness or bottom that is not above 0.
 * Example: 400 ft³/s, 20 ft, 2 : 1, 0.16 %, n 0.025: 3.36 ft (Chow 1959, example 6-2).
 */
export function normalFlow(
  cubicMetersPerSecond: number,
  channel: Trapezoid,
  slopeRatio: number,
  roughness: number,
): NormalFlow {
  const { bottomWidthMeters: bottom, sideRun } = channel;
  for (const value of [bottom, slopeRatio, roughness]) {
    if (!(value > 0 && value < Infinity)) throw new RangeError(`a width, slope or n of ${value}`);
  }
  if (!(sideRun >= 0 && sideRun < Infinity)) throw new RangeError(`sides of ${sideRun} to 1`);
  if (!(cubicMetersPerSecond >= 0 && cubicMetersPerSecond < Infinity)) {
    throw new RangeError(`a flow of ${cubicMetersPerSecond} m³/s`);
  }
  if (cubicMetersPerSecond === 0) {
    return { depthMeters: 0, metersPerSecond: 0, topWidthMeters: bottom };
  }
  const areaAt = (depth: number) => (bottom + sideRun * depth) * depth;
  const speedAt = (depth: number) => {
    const wetted = bottom + 2 * depth * Math.hypot(1, sideRun);
    return manningSpeed(areaAt(depth) / wetted, slopeRatio, roughness);
  };
  let high = 1;
  while (areaAt(high) * speedAt(high) < cubicMetersPerSecond) high *= 2;
  let low = 0;
  while (high - low > 1e-6 * high) {
    const middle = (low + high) / 2;
    if (areaAt(middle) * speedAt(middle) < cubicMetersPerSecond) low = middle;
    else high = middle;
  }
  const depthMeters = (low + high) / 2;
  return {
    depthMeters,
    metersPerSecond: cubicMetersPerSecond / areaAt(depthMeters),
    topWidthMeters: bottom + 2 * sideRun * depthMeters,
  };
}
