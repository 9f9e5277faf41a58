import { seasonLengthDays, type HuntingSeason } from './hunting-season.ts';
import { legalLight } from './legal-light.ts';
import { MIDDAY, MORNING, NIGHT, partOf, usualParts, type DayParts } from './sun-parts.ts';
import { sunPosition } from './sun-position.ts';

/** When the sun is in the eyes; editable. */
export interface GlareRule {
  /** Either side of the way a stand looks (trade notes, Q27: 20 degrees). */
  readonly withinDegrees: number;
  /** Higher than this a brim keeps it off: ours, no source. */
  readonly belowDegrees: number;
}

export const usualGlare: GlareRule = { withinDegrees: 20, belowDegrees: 10 };

/** Minutes a day of one week with the low sun in the eyes, mean over its days. */
export interface GlareWeek {
  readonly week: number;
  readonly morningMinutes: number;
  readonly eveningMinutes: number;
}

const DAY = 86_400_000;
const STEP_MINUTES = 2;

/**
 * Weeks of a season on which the low sun stands before a stand in legal mornings and evenings,
 * looked for every 2 minutes on every day. Bearings true; nothing of hills and woods. Days without a
 * sunrise have none. Throws RangeError for a bearing, place or season out of range.
 * Example: looking at 261 on the demo tract: November evenings.
 */
export function glareWeeks(
  facingDegrees: number,
  place: { readonly longitude: number; readonly latitude: number },
  season: HuntingSeason,
  year: number,
  rule: GlareRule = usualGlare,
  parts: DayParts = usualParts,
): GlareWeek[] {
  if (!Number.isFinite(facingDegrees)) throw new RangeError(`glareWeeks: facing ${facingDegrees}`);
  const days = seasonLengthDays(year, season);
  const first = Date.UTC(year, season.from.month - 1, season.from.day);
  const weeks = Array.from({ length: Math.ceil(days / 7) }, () => ({
    morning: 0,
    evening: 0,
    days: 0,
  }));
  for (let day = 0; day < days; day++) {
    const week = weeks[Math.floor(day / 7)]!;
    week.days++;
    const noon = first + (day + 0.5) * DAY - (place.longitude / 360) * DAY;
    const light = legalLight(place.longitude, place.latitude, noon, parts.light);
    if (!light) continue;
    const { fromUtcMilliseconds: from, toUtcMilliseconds: to } = light;
    for (let now = from; now <= to; now += STEP_MINUTES * 60_000) {
      const part = partOf(now, light, parts);
      if (part === MIDDAY || part === NIGHT) continue;
      if (!isGlaring(facingDegrees, place, now, rule)) continue;
      if (part === MORNING) week.morning += STEP_MINUTES;
      else week.evening += STEP_MINUTES;
    }
  }
  return weeks.map(({ morning, evening, days: of }, week) => ({
    week,
    morningMinutes: morning / of,
    eveningMinutes: evening / of,
  }));
}

function isGlaring(
  facing: number,
  { longitude, latitude }: { readonly longitude: number; readonly latitude: number },
  instant: number,
  { withinDegrees, belowDegrees }: GlareRule,
): boolean {
  const { azimuthDegrees, elevationDegrees } = sunPosition(longitude, latitude, instant);
  // Half the sun below the horizon is still bright.
  if (elevationDegrees < 0 || elevationDegrees > belowDegrees) return false;
  return Math.abs(((((azimuthDegrees - facing) % 360) + 540) % 360) - 180) <= withinDegrees;
}
