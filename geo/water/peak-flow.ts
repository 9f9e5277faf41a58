import { requirePositive } from './require-positive.ts';
import { retentionMeters, runoffMeters } from './runoff.ts';

/** How the rain of a day is spread over its hours (TR-55 appendix B). */
export type RainType = 'I' | 'IA' | 'II' | 'III';

type Row = readonly [iaOverP: number, c0: number, c1: number, c2: number];

/**
 * Unit peaks: log10 qu = C0 + C1 log10 Tc + C2 (log10 Tc)², qu in cubic feet a second from a square
 * mile for an inch of runoff, Tc in hours. Source: TR-55 (1986), appendix F, table F-1; from memory
 * and the same in two public Fortran programs that name the table.
 */
const unitPeaks: Readonly<Record<RainType, readonly Row[]>> = {
  I: [
    [0.1, 2.3055, -0.51429, -0.1175],
    [0.2, 2.23537, -0.50387, -0.08929],
    [0.25, 2.18219, -0.48488, -0.06589],
    [0.3, 2.10624, -0.45695, -0.02835],
    [0.35, 2.00303, -0.40769, 0.01983],
    [0.4, 1.87733, -0.32274, 0.05754],
    [0.45, 1.76312, -0.15644, 0.00453],
    [0.5, 1.67889, -0.0693, 0],
  ],
  IA: [
    [0.1, 2.0325, -0.31583, -0.13748],
    [0.2, 1.91978, -0.28215, -0.0702],
    [0.25, 1.83842, -0.25543, -0.02597],
    [0.3, 1.72657, -0.19826, 0.02633],
    [0.5, 1.63417, -0.091, 0],
  ],
  II: [
    [0.1, 2.55323, -0.61512, -0.16403],
    [0.3, 2.46532, -0.62257, -0.11657],
    [0.35, 2.41896, -0.61594, -0.0882],
    [0.4, 2.36409, -0.59857, -0.05621],
    [0.45, 2.29238, -0.57005, -0.02281],
    [0.5, 2.20282, -0.51599, -0.01259],
  ],
  III: [
    [0.1, 2.47317, -0.51848, -0.17083],
    [0.3, 2.39628, -0.51202, -0.13245],
    [0.35, 2.35477, -0.49735, -0.11985],
    [0.4, 2.30726, -0.46541, -0.11094],
    [0.45, 2.24876, -0.41314, -0.11508],
    [0.5, 2.17772, -0.36803, -0.09525],
  ],
};

const CUBIC_FOOT = 0.3048 ** 3;
const SQUARE_MILE = 1609.344 ** 2;
const INCH = 0.0254;

export interface GraphicalPeak {
  readonly cubicMetersPerSecond: number;
  /** Cubic feet a second from a square mile for an inch of runoff: the figure on TR-55's chart. */
  readonly unitPeakCsmPerInch: number;
  readonly runoffMeters: number;
  readonly iaOverP: number;
  /** The chart ends at Ia/P 0.1 and 0.5, and at 0.1 and 10 h: its edge was used. */
  readonly offTheChart: boolean;
}

/**
 * Peak flow by the graphical method: unit peak × area × runoff. Source: TR-55 (1986), ch. 4 and
 * appendix F; between two curves straight by Ia/P. The rain is that of 24 hours. No allowance is
 * made for ponds on the way, which errs to the safe side.
 * Throws RangeError for rain, area or time not above 0, and as `runoffMeters`.
 * Example: 250 ac, CN 75, 6.0 in, type II, 1.53 h: 270 csm/in and 345 ft³/s (TR-55 example 4-1).
 */
export function graphicalPeak(storm: {
  readonly areaSquareMeters: number;
  readonly curveNumber: number;
  readonly dayRainMeters: number;
  readonly concentrationHours: number;
  readonly rainType: RainType;
}): GraphicalPeak {
  const { areaSquareMeters, curveNumber, dayRainMeters, concentrationHours } = storm;
  requirePositive({ areaSquareMeters, dayRainMeters, concentrationHours });
  const iaOverP = (0.2 * retentionMeters(curveNumber)) / dayRainMeters;
  const ratio = Math.min(0.5, Math.max(0.1, iaOverP));
  const hours = Math.min(10, Math.max(0.1, concentrationHours));
  const unit = unitPeak(unitPeaks[storm.rainType], ratio, Math.log10(hours));
  const runoff = runoffMeters(dayRainMeters, curveNumber);
  return {
    cubicMetersPerSecond: unit * CUBIC_FOOT * (areaSquareMeters / SQUARE_MILE) * (runoff / INCH),
    unitPeakCsmPerInch: unit,
    runoffMeters: runoff,
    iaOverP,
    offTheChart: ratio !== iaOverP || hours !== concentrationHours,
  };
}

function unitPeak(rows: readonly Row[], ratio: number, logHours: number): number {
  const next = Math.max(
    1,
    rows.findIndex(([ia]) => ia >= ratio),
  );
  const [from, to] = [rows[next - 1]!, rows[next]!];
  const on = ([, c0, c1, c2]: Row) => 10 ** (c0 + c1 * logHours + c2 * logHours * logHours);
  const share = (ratio - from[0]) / (to[0] - from[0]);
  return on(from) * (1 - share) + on(to) * share;
}

/**
 * Peak flow by the rational formula, cubic metres a second: C i A, the rain as fast as it falls for
 * as long as the catchment takes to gather. Kuichling 1889; for small catchments, under about
 * 200 acres. Throws RangeError for a coefficient outside 0 to 1 or a rate or area below 0.
 * Example: 0.5, an inch an hour, an acre: 0.504 ft³/s.
 */
export function rationalPeak(
  coefficient: number,
  rainMetersPerHour: number,
  areaSquareMeters: number,
): number {
  if (!(coefficient >= 0 && coefficient <= 1))
    throw new RangeError(`a coefficient of ${coefficient}`);
  for (const value of [rainMetersPerHour, areaSquareMeters]) {
    if (!(value >= 0 && value < Infinity)) throw new RangeError(`a rate or area of ${value}`);
  }
  return (coefficient * rainMetersPerHour * areaSquareMeters) / 3600;
}
