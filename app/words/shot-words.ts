import type { Finding } from '../../geo/answers/finding.ts';
import type {
  SetbackFrom,
  StandInLine,
  StandSetback,
  StandSight,
} from '../../geo/answers/shot-answers.ts';
import { metersFromFeet } from '../../geo/frame/units.ts';
import { usualShotRules, type ShotRule, type Weapon } from '../../geo/plan/shot-rules.ts';
import type { ShotStretch } from '../../geo/sight/shot-stretches.ts';
import { bearing, bearing16, compassWord, figure, lengthQuantity, rangeQuantity, shareQuantity, spoken, tape, type UnitSystem } from './format.ts'; // prettier-ignore
import type { Writer } from './findings.ts';

export const weaponWords: Readonly<Record<Weapon, string>> = {
  bow: 'bow',
  shotgun: 'shotgun or muzzleloader',
  rifle: 'rifle',
};

export const setbackWords: Readonly<Record<SetbackFrom, string>> = {
  dwelling: 'a dwelling',
  building: 'a cabin or barn',
  road: 'a road',
  line: 'the property line',
};

interface ShotRuleWords {
  readonly label: string;
  readonly help?: (units: UnitSystem) => string;
  readonly least: 0 | 1;
  /** Said in yards, as shots are. */
  readonly isRange?: true;
}

const unsourced = (): string => 'common practice, no source';

/** The numbers that a weapon is held to, as fields are named. */
export const shotRuleWords: Readonly<Record<keyof ShotRule, ShotRuleWords>> = {
  rangeMeters: {
    label: 'Shots to',
    help: (units) => {
      const far = (['bow', 'shotgun', 'rifle'] as const).map((weapon) => `${weapon} ${spoken(rangeQuantity(usualShotRules[weapon].rangeMeters, units))}`); // prettier-ignore
      return `${far.join(', ')} (common practice)`;
    },
    least: 1,
    isRange: true,
  },
  earthWithinMeters: { label: 'Earth behind within', help: unsourced, least: 1, isRange: true },
  othersWithinMeters: { label: 'Other stands count within', help: unsourced, least: 1, isRange: true }, // prettier-ignore
  dwellingMeters: {
    label: 'Off a dwelling',
    help: (units) => {
      const [least, most, usual, bow] = [100, 1320, 500, 660].map((feet) => spoken(lengthQuantity(metersFromFeet(feet), units))); // prettier-ignore
      return `guns ${least} to ${most} by state, mostly ${usual}; archery ${least} to ${bow}`;
    },
    least: 0,
  },
  buildingMeters: { label: 'Off a cabin or barn', least: 0 },
  roadMeters: { label: 'Off a road', least: 0 },
  lineMeters: { label: 'Off the property line', least: 0 },
};

const reasonWords = {
  'leaves-tract': 'leaves the tract',
  'no-earth': 'no earth near enough behind',
  'no-data': 'ground not known there',
} as const;

/**
 * "NE 40° to E 95°", clockwise; past half the circle with what it goes round by:
 * "WNW 289° round by N, E and S to WSW 249°". "all round".
 */
export function stretchBearings({ fromDegrees, toDegrees }: ShotStretch): string {
  if (toDegrees - fromDegrees >= 359.5) return 'all round';
  const [from, to] = [bearing16(fromDegrees), bearing16(toDegrees)];
  if (from === to) return `at ${from}`;
  if (toDegrees - fromDegrees <= 180) return `${from} to ${to}`;
  const first = Math.floor(fromDegrees / 90) + 1;
  const count = Math.ceil(toDegrees / 90) - first;
  const by = Array.from({ length: count }, (_, i) => quarters[(first + i) % 4]!);
  return `${from} round by ${new Intl.ListFormat('en').format(by)} to ${to}`;
}

const quarters = ['N', 'E', 'S', 'W'] as const;

/** "blocked, leaves the tract from 120 yd on", "no bar found, earth within 190 yd". */
export function stretchText(
  stretch: ShotStretch,
  nameOf: (id: string) => string,
  units: UnitSystem,
  isOverPlots: boolean,
): string {
  const { state, blockedFromMeters, backstopMeters } = stretch;
  if (state === 'no-target') {
    return isOverPlots ? 'not over a plot in sight: not judged' : 'no ground in sight';
  }
  if (state === 'allowed') {
    return backstopMeters === null
      ? 'no bar found'
      : `no bar found, earth within ${spoken(rangeQuantity(backstopMeters, units))}`;
  }
  const why = `blocked, ${blockedLabel(stretch, nameOf)}`;
  if (stretch.reason === 'keep-clear' || blockedFromMeters === null) return why;
  return `${why} for shots over ${spoken(rangeQuantity(blockedFromMeters, units))}`;
}

/** "492 ft": in whole units as the answer has rounded them. */
export function wholeFeet(value: number, units: UnitSystem): string {
  return `${figure(value, 0)} ${units === 'metric' ? 'm' : 'ft'}`;
}

/** "202 yd": the same for shots. */
export function wholeYards(value: number, units: UnitSystem): string {
  return `${figure(value, 0)} ${units === 'metric' ? 'm' : 'yd'}`;
}

/** "8 ft short: move it WSW", "enough", as a table says it. */
export function setbackText({ unitsShort, awayDegrees }: StandSetback, units: UnitSystem): string {
  if (unitsShort === 0) return 'not short';
  const way = awayDegrees === null ? '' : `, move ${bearing(awayDegrees)}`;
  return `${wholeFeet(unitsShort, units)} short${way}`;
}

/** "A2 in line", "leaves the tract": at the range, on the map. */
export function blockedLabel(
  { reason, about }: ShotStretch,
  nameOf: (id: string) => string,
): string {
  if (reason === 'keep-clear') return `${about === null ? 'something' : nameOf(about)} in line`;
  return reason === null ? 'blocked' : reasonWords[reason];
}

/** "492 ft, 8 ft short" */
export function shortLabel({ unitsAway, unitsShort }: StandSetback, units: UnitSystem): string {
  return `${wholeFeet(unitsAway, units)}, ${wholeFeet(unitsShort, units)} short`;
}

/** "A2 202 yd: in the arc" */
export function inArcLabel(
  { otherId, unitsAway, way }: StandInLine,
  nameOf: (id: string) => string,
  units: UnitSystem,
): string {
  const whose = way === 'to-here' ? 'in its arc' : 'in the arc';
  return `${nameOf(otherId)} ${yards(unitsAway, units)}: ${whose}`;
}

/** "From its 12 ft floor 83 % of Bench plot; past 14 ft (91 %) more height shows little more (94 % at 20 ft)." */
export function sightSentence(
  { ownFloorMeters, ownShare, kneeMeters, heights, missingShare }: StandSight,
  plot: string,
  units: UnitSystem,
): string {
  const knee = heights.find(({ floorMeters }) => floorMeters === kneeMeters);
  const top = heights.at(-1);
  const at = (one: StandSight['heights'][number]) => `${spoken(shareQuantity(one.seenShare))} at ${tape(one.floorMeters, units)}`; // prettier-ignore
  const more =
    !knee || !top
      ? 'more height gains nothing'
      : knee === top
        ? `more height shows more all the way (${at(top)})`
        : `past ${tape(knee.floorMeters, units)} (${spoken(shareQuantity(knee.seenShare))}) more height shows little more (${at(top)})`;
  const unknown = missingShare > 0.005 ? ` ${spoken(shareQuantity(missingShare))} of it has no heights.` : ''; // prettier-ignore
  return `From its ${tape(ownFloorMeters, units)} floor ${spoken(shareQuantity(ownShare))} of ${plot}; ${more}.${unknown}`;
}

export const lineWords: Readonly<Record<StandInLine['way'], string>> = {
  both: 'Each lies in the other’s arc and range',
  'from-here': 'It looks toward the other, which lies in its arc and range',
  'to-here': 'It lies in the other’s arc and range',
};

/** Sentences of the findings about shots and setbacks. */
export const shotWriters: Readonly<Record<string, Writer>> = {
  'stand-in-arc': (values, units) => ({
    lead: 'Never sit both at once: move or turn one.',
    rest: `${lineWords[values['way'] as StandInLine['way']] ?? 'One lies in the arc and range of the other'}${other(values)}, ${yards(values['unitsAway'], units)} off.`,
  }),
  'stand-too-near': (values, units) => ({
    lead: `Move it ${awayWords(values)}${feet(values['unitsShort'], units)}.`,
    rest: `It is ${feet(values['unitsAway'], units)} from ${setbackWords[values['from'] as SetbackFrom] ?? 'it'} and needs ${typeof values['wantedMeters'] === 'number' ? spoken(lengthQuantity(values['wantedMeters'], units)) : 'more'}; the state’s own distance counts.`,
  }),
  'stand-off-tract': () => ({
    lead: 'Move it onto the tract.',
    rest: 'It lies outside the property line that is drawn; ask the owner of that ground, and check the line.',
  }),
  'stand-in-no-go': () => ({
    lead: 'Move it out of the no-go ground.',
    rest: 'It stands on ground that is marked to be kept out of.',
  }),
  'shots-no-line': () => ({
    lead: 'Draw the property line before you judge a shot.',
    rest: 'Without one nobody knows here where the tract ends; no direction is checked for that.',
  }),
  'shots-no-ground': () => ({
    lead: 'Open elevation that covers the stand.',
    rest: 'There is no ground under it, so no backstop can be judged in any direction.',
  }),
  'no-way-to-shoot': () => ({
    lead: 'Turn it down as a place to shoot from, or move it.',
    rest: 'In every direction something bars a shot, or nothing is in sight to be judged.',
  }),
  'sees-little': (values, units) => ({
    lead: typeof values['floorMeters'] === 'number' ? `Raise the floor to ${tape(values['floorMeters'], units)}, or move it.` : 'Raise the floor, or move it.', // prettier-ignore
    rest: `From where it is it sees ${share(values['share'])} of the plot, from there ${share(values['thenShare'])}.`,
  }),
  'weapon-not-set': () => ({
    lead: 'Set what it is hunted with.',
    rest: 'A rifle is taken, as it carries farthest.',
  }),
};

type Value = Finding['values'][string];

function feet(value: Value | undefined, units: UnitSystem): string {
  return typeof value === 'number' ? wholeFeet(value, units) : 'some way';
}

function yards(value: Value | undefined, units: UnitSystem): string {
  return typeof value === 'number' ? wholeYards(value, units) : 'some way';
}

function other({ other: name }: Finding['values']): string {
  return typeof name === 'string' && name !== '' ? ` (${name})` : '';
}

function share(value: Value | undefined): string {
  return typeof value === 'number' ? spoken(shareQuantity(value)) : 'some';
}

function awayWords(values: Finding['values']): string {
  const { awayDegrees } = values;
  return typeof awayDegrees === 'number'
    ? `${compassWord(awayDegrees)} at least `
    : 'away at least ';
}
