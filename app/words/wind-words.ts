import type { HeldAir } from '../../geo/answers/evening-pools.ts';
import type { RoseAnswer, SiteWind, StandWindNow } from '../../geo/answers/wind-answers.ts';
import type { DriftDoubt } from '../../geo/wind/scent-drift.ts';
import type { PartHours, StandSeason, VerdictHours } from '../../geo/wind/stand-season.ts';
import type { Reached, Verdict } from '../../geo/wind/wind-verdict.ts';
import { bearing, figure, rangeQuantity, shareQuantity, spoken, windSpeedQuantity, type UnitSystem } from './format.ts'; // prettier-ignore
import { upperFirst } from './upper-first.ts';

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
  if (!(steadiness >= 0.35)) return 'shifting';
  return steadiness >= 0.65 ? 'steady' : 'fairly steady';
}

/** "At dawn most often from the southwest (21 % of hours), shifting, 5 mph on average; calm 18 %." */
export function roseSentence(when: string, rose: RoseAnswer, units: UnitSystem): string {
  if (rose.hours === 0) return `${when}: no hours in the record.`;
  const calm = spoken(shareQuantity(rose.calmHours / rose.hours));
  if (rose.prevailing === null) return `${when}: never any wind with a direction; calm ${calm}.`;
  const share = spoken(shareQuantity(rose.directionHours[rose.prevailing]! / rose.hours));
  const speed = spoken(windSpeedQuantity(rose.meanMetersPerSecond, units));
  return `${when} most often from the ${directionWords[rose.prevailing]!} (${share} of hours), ${steadinessWords(rose.steadiness)}, ${speed} on average; calm ${calm}.`;
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
  synoptics: 'synoptic reports',
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

export const verdictWords: Readonly<Record<Verdict, string>> = {
  works: 'works',
  marginal: 'marginal',
  'does-not': 'does not work',
};

const doubtWords: Readonly<Record<DriftDoubt, string>> = {
  calm: 'the air is calm',
  variable: 'the wind has no direction',
  'light-air': 'the air is light at the seat',
  'slope-air': 'the slope’s own air has a part in it',
  sheltered: 'the opening is narrow and the air turns in it',
  'pooled-air': 'nobody measures where evening air stands',
};

/**
 * "Does not work: scent goes NE 45°, within 37° either side, and it reaches Spring plot, 126 yd off (12 %
 * of it)." Where a pool of evening air decides, that comes first.
 */
export function verdictSentence(
  now: StandWindNow,
  nameOf: (id: string) => string,
  units: UnitSystem,
): string {
  const lead = { works: 'Works', marginal: 'Marginal', 'does-not': 'Does not work' }[now.verdict];
  const drift = driftClause(now, nameOf, units);
  const pools = now.pools.map((pool) => poolClause(pool, nameOf, units));
  const decides = now.verdict !== 'works' && now.reached.length === 0;
  const clauses = decides ? [...pools, drift] : [drift, ...pools];
  return `${lead}: ${clauses.map((text, i) => (i === 0 ? text : upperFirst(text))).join('. ')}.`;
}

function driftClause(now: StandWindNow, nameOf: (id: string) => string, units: UnitSystem): string {
  const way =
    now.towardDegrees === null
      ? 'scent spreads all round'
      : `scent goes ${bearing(now.towardDegrees)}, within ${figure(now.halfAngleDegrees, 0)}° either side`; // prettier-ignore
  const reached = now.reached.slice(0, 3).map(({ id, meters, share }) => {
    const off = meters === 0 ? 'from the seat on' : `${spoken(rangeQuantity(meters, units))} off`;
    return `${nameOf(id)}, ${off} (${spoken(shareQuantity(share))} of it)`;
  });
  const what =
    reached.length === 0
      ? `nothing protected lies in it within ${spoken(rangeQuantity(now.reachMeters, units))}`
      : `it reaches ${new Intl.ListFormat('en').format(reached)}`;
  return `${way}, and ${what}`;
}

/** "evening air from here runs down behind South berm, 60 yd off, and stands there over Bench plot". */
function poolClause(
  { heldBy, meters, grounds }: HeldAir,
  nameOf: (id: string) => string,
  units: UnitSystem,
): string {
  const list = new Intl.ListFormat('en');
  const where = heldBy.length > 0 ? `behind ${list.format(heldBy.map(nameOf))}` : 'into a hollow';
  const runs =
    meters === 0
      ? `evening air stands here ${heldBy.length > 0 ? where : 'in a hollow'}`
      : `evening air from here runs down ${where}, ${spoken(rangeQuantity(meters, units))} off, and stands there`; // prettier-ignore
  return grounds.length > 0
    ? `${runs} over ${list.format(grounds.map(({ id }) => nameOf(id)))}`
    : `${runs}, over nothing protected`;
}

/** "Low confidence: the air is light at the seat." Empty where the confidence is the usual one. */
export function doubtSentence({ doubts }: StandWindNow): string {
  if (doubts.length === 0) return '';
  return `Low confidence: ${new Intl.ListFormat('en').format(doubts.map((doubt) => doubtWords[doubt]))}.`;
}

function shareOf({ works, marginal, doesNot }: VerdictHours): number {
  const all = works + marginal + doesNot;
  return all > 0 ? works / all : 0;
}

/** "Works on 36 % of legal mornings and 46 % of evenings." */
export function seasonSentence({ morning, evening }: PartHours): string {
  const percent = (hours: VerdictHours) => spoken(shareQuantity(shareOf(hours)));
  return `Works in ${percent(morning)} of the legal morning hours and ${percent(evening)} of the evening hours.`;
}

/** "Spring plot 126 yd": what the drift reaches, the nearest first; empty where nothing. */
export function reasonText(
  reached: readonly Reached[],
  nameOf: (id: string) => string,
  units: UnitSystem,
): string {
  return reached
    .slice(0, 2)
    .map(({ id, meters }) => `${nameOf(id)} ${spoken(rangeQuantity(meters, units))}`)
    .join(', ');
}

/** "Oct 1", "Oct 8" …: the first day of a week of the season. */
export function weekWords([month, day]: readonly [number, number], week: number): string {
  const date = new Date(Date.UTC(2023, month - 1, day + 7 * week));
  return `${monthName(date.getUTCMonth() + 1)} ${date.getUTCDate()}`;
}

/** "36 %, 46 %": of legal mornings and evenings. */
export function sharesText({ morning, evening }: StandSeason): string {
  return [morning, evening].map((part) => spoken(shareQuantity(shareOf(part)))).join(', ');
}

/** "Oct 1". */
export function dayWords([month, day]: readonly [number, number]): string {
  return `${monthName(month)} ${day}`;
}

/** "Oct 1", "10/1", "1 October". */
export function readDay(text: string): { value: [number, number] } | { wrong: string } {
  const words = text.trim().toLowerCase();
  const named = monthNames.findIndex((name) => words.includes(name.toLowerCase()));
  const numbers = [...words.matchAll(/\d+/g)].map(([found]) => Number(found));
  const [month, day] = named >= 0 ? [named + 1, numbers[0]] : numbers;
  const longest = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][(month ?? 0) - 1] ?? 0;
  if (month !== undefined && day !== undefined && day >= 1 && day <= longest) {
    return { value: [month, day] };
  }
  return { wrong: 'Write a day, such as Oct 1 or 10/1.' };
}
