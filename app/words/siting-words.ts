import type { SitePlace } from '../../geo/answers/shot-answers.ts';
import {
  directions16,
  figure,
  rangeQuantity,
  shareQuantity,
  spoken,
  type UnitSystem,
} from './format.ts';
import type { Writer } from './findings.ts';
import { lineWords, wholeYards } from './shot-words.ts';
import { seasonSentence } from './wind-words.ts';

type Part = keyof SitePlace['parts'];

const partWords: Readonly<Record<Part, string>> = {
  hours: 'hours that work',
  seen: 'what it sees',
  lane: 'the way in',
};

const percent = (share: number): string => spoken(shareQuantity(share));

/** "Works in 40 % of the legal morning hours and 43 % of the evening hours; half of them or more on N and W." */
export function hoursWords({ season, worksOn }: SitePlace): string {
  const winds = worksOn.flatMap((index) => directions16[index] ?? []);
  const on = winds.length === 0 ? 'less than half of them on every wind' : `half of them or more on ${new Intl.ListFormat('en').format(winds)}`; // prettier-ignore
  return `${seasonSentence(season).replace(/\.$/, '')}; ${on}.`;
}

/** "Never sit it at once with A1, 192 yd off: it lies in the other’s arc and range." Empty where nobody is in line. */
export function inLineWords(
  { inLine }: SitePlace,
  nameOf: (id: string) => string,
  units: UnitSystem,
): string {
  const texts = inLine.map(({ otherId, unitsAway, way }) => `Never sit it at once with ${nameOf(otherId)}, ${wholeYards(unitsAway, units)} off: ${lowerFirst(lineWords[way])}.`); // prettier-ignore
  return texts.join(' ');
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

/** "100 % of the plot is in sight and in range." */
export function seenWords({ parts }: SitePlace): string {
  return `${percent(parts.seen)} of the plot is in sight and in range.`;
}

/** "The way in gives away less than from 65 % of the places round the plot." */
export function laneWords({ betterThan }: SitePlace, knowsLanes: boolean): string {
  if (!knowsLanes) return 'The way in is not known: no access point.';
  return `The way in gives away less than from ${percent(betterThan.lane)} of the places round it.`;
}

/** "Weak side: the way in (70 % of the places are better)." */
export function weakWords({ weakest, worseThan }: SitePlace): string {
  if (weakest === null) return 'No weak side: in nothing are more places better than worse.';
  return `Weak side: ${partWords[weakest]} (${percent(worseThan[weakest])} of the places are better).`;
}

/** What a place is called, on the map and off it: "Bench plot, place 1". */
export function placeName(plot: string, index: number): string {
  return `${plot || 'unnamed plot'}, place ${figure(index + 1, 0)}`;
}

/** Sentences of the findings about where a stand could go. */
export const sitingWriters: Readonly<Record<string, Writer>> = {
  'siting-no-wind': () => ({
    lead: 'Open a wind record first.',
    rest: 'Without one nobody can say in which hours a place works.',
  }),
  'siting-no-plot': () => ({
    lead: 'Draw a plot first.',
    rest: 'Places are looked for round plots whose outline does not cross itself.',
  }),
  'siting-stand-there': (values, units) => ({
    lead: 'You have a stand at the best place already.',
    rest: `${typeof values['stand'] === 'string' && values['stand'] !== '' ? values['stand'] : 'One'} is ${typeof values['unitsAway'] === 'number' ? wholeYards(values['unitsAway'], units) : 'close'} from it. The places listed lie ${typeof values['apartMeters'] === 'number' ? spoken(rangeQuantity(values['apartMeters'], units)) : 'well'} or more from every stand that is drawn.`,
  }),
  'siting-nowhere': () => ({
    lead: 'Set no stand round this plot as it is drawn.',
    rest: 'No place near it is on the tract, off no-go ground, clear of the stands drawn, keeps its setbacks, sees the plot and works in any hour.',
  }),
  'siting-few': (values, units) => ({
    lead:
      values['count'] === 1
        ? 'One place is all there is here.'
        : `Only ${typeof values['count'] === 'number' ? figure(values['count'], 0) : 'few'} places differ here.`,
    rest: `Every other that works lies within ${typeof values['apartMeters'] === 'number' ? spoken(rangeQuantity(values['apartMeters'], units)) : 'a short walk'} of one of them on the same side of the plot, or close to a stand that is drawn.`,
  }),
  'siting-no-access': () => ({
    lead: 'Set an access point to have the way in count.',
    rest: 'Without one every place is taken to be as easy to reach as any other.',
  }),
};
