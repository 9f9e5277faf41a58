import type { SitePlace } from '../../geo/answers/shot-answers.ts';
import { directions16, figure, shareQuantity, spoken } from './format.ts';
import type { Writer } from './findings.ts';

type Part = SitePlace['weakest'];

const partWords: Readonly<Record<Part, string>> = {
  hours: 'hours that work',
  seen: 'what it sees',
  lane: 'the way in',
};

const percent = (share: number): string => spoken(shareQuantity(share));

/** "Works 39 % of legal hours, on N, NNE and W" */
export function hoursWords({ parts, worksOn }: SitePlace): string {
  const winds = worksOn.flatMap((index) => directions16[index] ?? []);
  const on = winds.length === 0 ? 'on no plain wind' : `on ${new Intl.ListFormat('en').format(winds)}`; // prettier-ignore
  return `Works ${percent(parts.hours)} of legal hours, ${on}.`;
}

/** "Sees 100 % of the plot in range." */
export function seenWords({ parts }: SitePlace): string {
  return `Sees ${percent(parts.seen)} of the plot in range.`;
}

/** "The way in gives away less than from 65 % of the places round the plot." */
export function laneWords({ betterThan }: SitePlace, knowsLanes: boolean): string {
  if (!knowsLanes) return 'The way in is not known: no access point.';
  return `The way in gives away less than from ${percent(betterThan.lane)} of the places round it.`;
}

/** "Its weak side is the way in: 20 % of the places are worse." */
export function weakWords({ parts, weakest, betterThan }: SitePlace): string {
  // What cannot be better is no weak side, however many places are as good.
  const open = (['hours', 'seen', 'lane'] as const).filter((part) => parts[part] < 0.995);
  const weak = open.reduce<Part>((least, part) => (betterThan[part] < betterThan[least] ? part : least), open[0] ?? weakest); // prettier-ignore
  return `Weak side: ${partWords[weak]} (${percent(betterThan[weak])} of the places are worse).`;
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
  'siting-nowhere': () => ({
    lead: 'Set no stand round this plot as it is drawn.',
    rest: 'No place near it is on the tract, off no-go ground, keeps its setbacks, sees the plot and works in any hour.',
  }),
  'siting-no-access': () => ({
    lead: 'Set an access point to have the way in count.',
    rest: 'Without one every place is taken to be as easy to reach as any other.',
  }),
};
