import { METERS_PER_SECOND } from './decoder.ts';

export interface MetarWind {
  /** NaN where it is calm or variable. */
  readonly fromDegrees: number;
  readonly speedMetersPerSecond: number;
  /** NaN where none is given. */
  readonly gustMetersPerSecond: number;
  /** Limits of a direction that swings by 60 degrees or more, clockwise; null where not given. */
  readonly between: readonly [number, number] | null;
}

const GROUP =
  /(?:^|\s)(\d{3}|VRB)(\d{2,3})(?:G(\d{2,3}))?(KT|MPS|KMH)(?:\s+(\d{3})V(\d{3}))?(?=\s|=|$)/;

/**
 * The wind group of an aviation report (FMH-1 chapter 12: `dddff(f)Gff(f)KT`, `VRBffKT`, `00000KT`,
 * `dddVddd`; MPS and KMH as other countries write it), speeds in m/s, direction in degrees true.
 * Null where the report has none or says `/////KT`.
 * Example: `08032G45KT` gives 80 degrees, 16.46 m/s, gusts of 23.15 m/s.
 */
export function metarWind(report: string): MetarWind | null {
  // Remarks speak of peak winds and shifts.
  const match = GROUP.exec(report.split(/\sRMK\s/)[0]!);
  if (!match) return null;
  const [, direction, speed, gust, unit, from, to] = match;
  const scale = METERS_PER_SECOND[unit === 'KT' ? 'kt' : unit === 'MPS' ? 'm/s' : 'km/h'];
  const metersPerSecond = Number(speed) * scale;
  const degrees = direction === 'VRB' || metersPerSecond === 0 ? NaN : Number(direction);
  return {
    fromDegrees: degrees,
    speedMetersPerSecond: metersPerSecond,
    gustMetersPerSecond: gust === undefined ? NaN : Number(gust) * scale,
    between: from === undefined ? null : [Number(from), Number(to)],
  };
}
