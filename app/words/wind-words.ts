import type { RoseAnswer, SiteWind } from '../../geo/answers/wind-answers.ts';
import { figure, shareQuantity, spoken, windSpeedQuantity, type UnitSystem } from './format.ts';

/** Sixteen directions, clockwise from north. */
export const directions16 = [
  'N',
  'NNE',
  'NE',
  'ENE',
  'E',
  'ESE',
  'SE',
  'SSE',
  'S',
  'SSW',
  'SW',
  'WSW',
  'W',
  'WNW',
  'NW',
  'NNW',
] as const;

const directionWords = [
  'north',
  'north-northeast',
  'northeast',
  'east-northeast',
  'east',
  'east-southeast',
  'southeast',
  'south-southeast',
  'south',
  'south-southwest',
  'southwest',
  'west-southwest',
  'west',
  'west-northwest',
  'northwest',
  'north-northwest',
] as const;

function steadinessWords(steadiness: number): string {
  if (!(steadiness >= 0.35)) return 'from all sides';
  return steadiness >= 0.65 ? 'steady' : 'fairly steady';
}

/** "At dawn mostly from the southwest (21 % of hours), fairly steady, 5 mph; calm 18 %." */
export function roseSentence(when: string, rose: RoseAnswer, units: UnitSystem): string {
  if (rose.hours === 0) return `${when}: no hours in the record.`;
  const calm = spoken(shareQuantity(rose.calmHours / rose.hours));
  if (rose.prevailing === null) return `${when}: never any wind with a direction; calm ${calm}.`;
  const share = spoken(shareQuantity(rose.directionHours[rose.prevailing]! / rose.hours));
  const speed = spoken(windSpeedQuantity(rose.meanMetersPerSecond, units));
  return `${when} mostly from the ${directionWords[rose.prevailing]!} (${share} of hours), ${steadinessWords(rose.steadiness)}, ${speed} on average; calm ${calm}.`;
}

const monthNames = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const; // prettier-ignore

export function monthName(month: number): string {
  return monthNames[month - 1] ?? String(month);
}

/** "12,480 hours, Oct 2019 to Jan 2024, 5 whole seasons". */
export function recordLine({ rows, firstSecond, lastSecond, length }: SiteWind): string {
  const when = (seconds: number) => {
    const date = new Date(seconds * 1000);
    return `${monthName(date.getUTCMonth() + 1)} ${date.getUTCFullYear()}`;
  };
  const seasons = length.wholeSeasons === 1 ? 'one whole season' : `${length.wholeSeasons} whole seasons`; // prettier-ignore
  return `${figure(rows, 0)} hours, ${when(firstSecond)} to ${when(lastSecond)}, ${seasons}`;
}

const tallyWords: Readonly<Record<string, string>> = {
  calm: 'calm',
  variable: 'variable',
  missing: 'without wind',
  suspect: 'called suspect by the file',
  outOfRange: 'impossible',
  unreadableTime: 'without a time',
  summaries: 'summaries',
  duplicates: 'twice',
  specials: 'special reports',
  moreInHour: 'more in an hour',
  gaps: 'gaps',
};

/** "calm 2,210, twice 14, gaps 3": what became of the rows, noughts left out. */
export function tallyLine(tally: Readonly<Record<string, number>>): string {
  return Object.entries(tallyWords)
    .filter(([key]) => (tally[key] ?? 0) > 0)
    .map(([key, words]) => `${words} ${figure(tally[key]!, 0)}`)
    .join(', ');
}
