import type { WindRecord } from '../plan/wind-record.ts';
import { reportingStep, SECTORS, shareOut } from './sectors.ts';
import type { SunParts } from './sun-parts.ts';
import { WindSum, type WindMean } from './wind-mean.ts';

/** Lower edges of the classes of speed above the first, m/s: 4, 8, 13 and 19 mph (Beaufort 2 to 5). */
export const usualSpeedEdges: readonly number[] = [4, 8, 13, 19].map((mph) => mph * 0.44704);

/** Which rows of a record go into a rose; what is left out does not matter. */
export interface RoseChoice {
  readonly months?: readonly number[];
  readonly parts?: readonly number[];
  readonly inSeasonOnly?: boolean;
}

export interface WindRose {
  /** Rows counted, calm and variable among them. */
  readonly hours: number;
  readonly calmHours: number;
  readonly variableHours: number;
  /** Lower edges of the classes above the first, m/s. */
  readonly speedEdges: readonly number[];
  /** Hours by sector (16, clockwise from north) times classes of speed, sector by sector. */
  readonly sectorHours: Float64Array;
  /** The sector with most hours; the first one clockwise from north of several; null without wind. */
  readonly prevailing: number | null;
  readonly mean: WindMean;
  /** Steps in which the record gives directions, degrees; 0 where it does not keep to steps. */
  readonly stepDegrees: number;
}

/**
 * Counts a record into 16 directions by classes of speed; calm and variable stand apart. A record in
 * tens of degrees is shared out between sectors (`shareOut`). Every row counts as one hour.
 * Throws RangeError where record and parts differ in length or edges do not rise.
 */
export function windRose(
  record: WindRecord,
  sun: SunParts,
  choice: RoseChoice = {},
  speedEdges = usualSpeedEdges,
): WindRose {
  if (sun.part.length !== record.count) throw new RangeError(`windRose: ${sun.part.length} parts`);
  if (speedEdges.some((edge, i) => !(edge > (speedEdges[i - 1] ?? 0)))) {
    throw new RangeError(`windRose: edges ${speedEdges.join(', ')}`);
  }
  const classes = speedEdges.length + 1;
  const sectorHours = new Float64Array(SECTORS * classes);
  const stepDegrees = reportingStep(record.fromDegrees);
  const sum = new WindSum();
  let [hours, calmHours, variableHours] = [0, 0, 0];
  for (let i = 0; i < record.count; i++) {
    if (!isChosen(sun, i, choice)) continue;
    hours++;
    const from = record.fromDegrees[i]!;
    const speed = record.speedMetersPerSecond[i]!;
    sum.add(from, speed);
    if (speed === 0) calmHours++;
    else if (Number.isNaN(from)) variableHours++;
    else {
      let speedClass = 0;
      while (speedClass < speedEdges.length && speed >= speedEdges[speedClass]!) speedClass++;
      shareOut(from, stepDegrees, (sector, share) => {
        sectorHours[sector * classes + speedClass]! += share;
      });
    }
  }
  return {
    hours,
    calmHours,
    variableHours,
    speedEdges,
    sectorHours,
    prevailing: prevailingOf(sectorHours, classes),
    mean: sum.mean(),
    stepDegrees,
  };
}

/** Hours of a sector over all speeds. */
export function sectorTotal({ sectorHours, speedEdges }: WindRose, sector: number): number {
  const classes = speedEdges.length + 1;
  let total = 0;
  for (let k = 0; k < classes; k++) total += sectorHours[sector * classes + k]!;
  return total;
}

function isChosen(sun: SunParts, i: number, { months, parts, inSeasonOnly }: RoseChoice): boolean {
  if (inSeasonOnly && sun.season[i] === 0) return false;
  if (months && !months.includes(sun.month[i]!)) return false;
  return !parts || parts.includes(sun.part[i]!);
}

function prevailingOf(sectorHours: Float64Array, classes: number): number | null {
  let best: number | null = null;
  let most = 0;
  for (let sector = 0; sector < SECTORS; sector++) {
    let total = 0;
    for (let k = 0; k < classes; k++) total += sectorHours[sector * classes + k]!;
    // Shares of tens add up with rounding: what is no more than that is equal.
    if (total > most + 1e-6) [best, most] = [sector, total];
  }
  return best;
}
