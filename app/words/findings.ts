import type { WayOut } from '../../geo/answers/answers.ts';
import type { Finding } from '../../geo/answers/finding.ts';
import {
  areaQuantity,
  compassWord,
  depthQuantity,
  errorQuantity,
  lengthQuantity,
  rainQuantity,
  shareQuantity,
  slopeQuantity,
  spoken,
  station,
  type UnitSystem,
} from './format.ts';
import { debrisWriters } from './debris-findings.ts';
import { shotWriters } from './shot-words.ts';
import { sitingWriters } from './siting-words.ts';
import { windWriters } from './wind-findings.ts';
import { surveyDate } from './clock.ts';
import { barsText, cutText, speedText, stoneText } from './way-out-words.ts';
import { standsFor } from './water-words.ts';

/** A finding as it is read: a lead that can be acted on, then what it rests on. */
export interface Sentence {
  readonly lead: string;
  readonly rest: string;
}

type Values = Finding['values'];
export type Writer = (values: Values, units: UnitSystem) => Sentence;

/** One entry per finding code; SI values in, plain words out. */
const writers: Readonly<Record<string, Writer>> = {
  ...debrisWriters,
  ...windWriters,
  ...shotWriters,
  ...sitingWriters,
  'no-ground': () => ({
    lead: 'Open the ground first.',
    rest: 'There is no elevation yet, so slope and water cannot be answered. Acres and lengths can.',
  }),
  'ground-empty': () => ({
    lead: 'Open another elevation file.',
    rest: 'This one holds no heights at all.',
  }),
  'off-ground': () => ({
    lead: 'Open elevation that covers this.',
    rest: 'It lies wholly outside the ground that is open.',
  }),
  'partly-off-ground': (values) => ({
    lead: 'Open elevation that covers the rest.',
    rest: `Only ${percent(values['coveredShare'])} of it lies over ground with heights; what is said of the ground is for that part.`,
  }),
  'survey-date-unknown': () => ({
    lead: 'Set the survey date.',
    rest: 'Nobody has said when this ground was measured.',
  }),
  'survey-before-clearing': (values) => ({
    lead: 'Shoot it again before cutting grade.',
    rest: `${dated(values['surveyedOn'])} before clearing; the ground after stumping is not this ground.`,
  }),
  'clearing-unknown': () => ({
    lead: 'Say whether the survey is from before or after clearing.',
    rest: 'The ground after stumping is not the ground before.',
  }),
  'vertical-error-assumed': (values, units) => ({
    lead: 'Set the vertical error if you have the survey report.',
    rest: `${spoken(errorQuantity(number(values['verticalErrorMeters']), units))} is assumed from the cell size.`,
  }),
  'coarse-ground': (values, units) => ({
    lead: 'Get a finer survey before you price dirt.',
    rest: `Cells of ${spoken(lengthQuantity(number(values['cellMeters']), units))} miss small swales and pockets.`,
  }),
  'plot-steep': (values) => ({
    lead: 'Keep the steep part in sod.',
    rest: `A tenth of this plot is steeper than ${spoken(slopeQuantity(number(values['percentile90Slope'])))}; plots over 10 % wash (common practice).`,
  }),
  'nothing-plantable': () => ({
    lead: 'Move the plot or what lies on it.',
    rest: 'Everything in it is taken: by no-go ground, structures, berms, heaps or steep ground.',
  }),
  'taking-without-size': (values) => ({
    lead: 'Draw as an area what cannot be planted.',
    rest: `${number(values['count']) === 1 ? 'One thing' : `${number(values['count']) ?? 'Some'} things`} in this plot ${number(values['count']) === 1 ? 'has' : 'have'} no size drawn; nothing was taken off for ${number(values['count']) === 1 ? 'it' : 'them'}.`,
  }),
  'dams-water': (values, units) => ({
    lead:
      (number(values['gaps']) ?? 0) > 0
        ? 'Look at what it holds back between its gaps.'
        : 'Leave a gap where it holds water back.',
    rest: `Brim full it dams ${spoken(areaQuantity(number(values['areaSquareMeters']), units))}, which ${dryText(number(values['hours']))}.`,
  }),
  'berm-across-ditch': (values, units) => ({
    lead: `Leave a gap where ${values['ditch'] ? String(values['ditch']) : 'the ditch'} goes through.`,
    rest: `This berm lies across it at ${station(number(values['stationMeters']) ?? 0, units)} and dams it again unless the cut is kept open there.`,
  }),
  'turns-flow': (values, units) => ({
    lead: 'Let the water through, or armor where it goes.',
    rest: `What runs off ${spoken(areaQuantity(number(values['squareMeters']), units))} is turned aside and comes together where it gets past; that is how gullies begin.`,
  }),
  'plot-low-spot': (values, units) => ({
    lead: 'Look at the low spots before you seed.',
    rest: `Water can stand ${spoken(depthQuantity(number(values['maxDepthMeters']), number(values['verticalErrorMeters']), units))} deep over ${spoken(areaQuantity(number(values['areaSquareMeters']), units))} of this plot when they are full.`,
  }),
  'low-spots-within-error': (values, units) => ({
    lead: 'Walk the shallow ones.',
    rest: `Low spots under ${spoken(depthQuantity(number(values['depthMeters']), null, units))} are within the error of this survey and may not be there.`,
  }),
  'low-spots-error-assumed': (values, units) => ({
    lead: 'State the survey’s vertical error, under Ground.',
    rest: `Nobody has, so ${spoken(depthQuantity(number(values['depthMeters']), null, units))} is assumed from its cells, and ${number(values['count']) === 1 ? 'one hollow shallower than that is' : `${number(values['count']) ?? 'some'} hollows shallower than that are`} not listed, though water can stand there.`,
  }),
  'low-spots-plain-fill': () => ({
    lead: 'Read the brim-full figures as the most there can be.',
    rest: 'There each low spot is filled to where it would spill, whatever rain that takes.',
  }),
  'may-be-wetland': (values) => ({
    lead: `Have ${String(values['spots'] ?? 'the low spots')} looked at before any cut.`,
    rest: `From brim full in the growing season, water stands there ${typeof values['hours'] === 'number' ? `about ${standsFor(number(values['hours']))}` : 'until something lets it out'} if no more rain falls. Over 14 days of that is a sign of wetland, and draining one can need a federal or state permit. Ask the Corps of Engineers district, the state agency, or the NRCS office.`,
  }),
  'plot-stands-long': (values, units) => ({
    lead: 'Let the water out, or plant what stands it.',
    rest: `This rain leaves ${spoken(areaQuantity(number(values['areaSquareMeters']), units))} of it under water, to ${spoken(depthQuantity(number(values['maxDepthMeters']), number(values['verticalErrorMeters']), units))}, for ${typeof values['hours'] === 'number' ? standsFor(values['hours']) : 'as long as nothing takes it away'}; field crops suffer after a day. Have a wet place looked at before any cut.`,
  }),
  'way-out-barred': (values) => ({
    lead: `Dig no way out of ${String(values['spot'] ?? 'this low spot')} yet.`,
    rest: `Every way goes through ${typeof values['bars'] === 'string' ? barsText(values['bars'].split(', ') as WayOut['bars'][number][]) : 'ground that must not be cut'}. Have buried lines located, and ask whoever has a say there.`,
  }),
  'notch-washes': (values, units) => ({
    lead: `Do not let the notch out of ${String(values['spots'] ?? 'this low spot')} run like this.`,
    rest: `In this rain it runs ${speed(values['speedMetersPerSecond'], units)} and fair grass holds ${speed(values['permissibleMetersPerSecond'], units)}. ${wayOf(values, units)}`,
  }),
  'notch-too-small': (values, units) => ({
    lead: `Make the notch out of ${String(values['spots'] ?? 'this low spot')} wider.`,
    rest: `In tall grass the water stands ${cutText(number(values['depthMeters']) ?? 0, units)} deep in a cut of ${cutText(number(values['cutMeters']) ?? 0, units)}, so some stays on the spot until the rain is over.${typeof values['widerBottomMeters'] === 'number' ? ` A bottom of ${spoken(lengthQuantity(values['widerBottomMeters'], units))} would do.` : ''}`,
  }),
  'notch-outlet-washes': (values, units) => ({
    lead: `Guard the ground where the notch out of ${String(values['spots'] ?? 'this low spot')} comes out.`,
    rest: `It runs ${speed(values['speedMetersPerSecond'], units)} there on ${spoken(slopeQuantity(number(values['outletSlope'])))}; ${typeof values['permissibleMetersPerSecond'] === 'number' ? `good grass holds ${speed(values['permissibleMetersPerSecond'], units)}` : 'no grass is rated over 10 %'}. ${typeof values['stoneMeters'] === 'number' ? `Lay stone of ${stoneText(values['stoneMeters'], units)}, or come out elsewhere.` : 'Come out elsewhere.'}`,
  }),
  'steep-below-notch': (values) => ({
    lead: `Walk the ground below the notch out of ${String(values['spots'] ?? 'this low spot')}.`,
    rest: `Ground of ${spoken(slopeQuantity(number(values['steepestSlope'])))} lies within 100 ft below its end, and gathered water can wash it.`,
  }),
  'notch-grass-first': (values, units) => ({
    lead: `Let grass stand in the notch out of ${String(values['spots'] ?? 'this low spot')} before it has to run.`,
    rest: `Bare it would run ${speed(values['speedMetersPerSecond'], units)} in this rain, and holds ${speed(values['permissibleMetersPerSecond'], units)}.`,
  }),
  'culvert-first': (values) => ({
    lead: `Look for a culvert before you cut ${String(values['spot'] ?? 'this low spot')} out.`,
    rest: 'This road lies where its water would run. A survey sees the fill and not the pipe through it: draw the culvert, or say that there is none.',
  }),
  'culvert-drawn': (values) => ({
    lead: `Let the rain fall on what is drawn to see ${String(values['spot'] ?? 'this low spot')} with its culvert.`,
    rest: 'One is drawn under the road here.',
  }),
  'spots-doubtful': (values) => ({
    lead: `Walk ${String(values['spots'] ?? 'the small ones')} before you believe in them.`,
    rest: 'Within the error of this survey they are often not there.',
  }),
  'soils-assumed': (values) => ({
    lead: 'Draw the soil areas, or bring them in.',
    rest: `They cover ${percent(values['knownShare'])} of the ground${values['plots'] ? ` (${String(values['plots'])})` : ''}; the rest is taken as soil group ${String(values['group'] ?? 'set below')}.`,
  }),
  'rain-table-unread': (values) => ({
    lead: 'Pick the rainfall table anew.',
    rest: `${String(values['what'] ?? 'The one that is kept cannot be read.')} ${String(values['wayOut'] ?? '')}`.trim(),
  }),
  'rain-table-gaps': (values) => ({
    lead: 'Look at the gaps in the rainfall table.',
    rest: `It lacks ${typeof values['missing'] === 'number' ? values['missing'] : 'some'} of its numbers; the next known ones on either side stand in.`,
  }),
  'drain-off-ground': () => ({
    lead: 'Move it onto the ground that is open.',
    rest: 'It lies where there are no heights, so it lets no water out.',
  }),
  'intake-by-group': () => ({
    lead: 'Set how fast the soils take water if you know it.',
    rest: 'Where a soil area does not say, the slow end of its group’s range is used.',
  }),
  'little-runoff': (values, units) => ({
    lead: 'Trust the runoff less.',
    rest: `${spoken(rainQuantity(number(values['runoffMeters']) ?? 0, units))} is under half an inch, where curve numbers are rough (TR-55).`,
  }),
  'duration-sheds-the-same': () => ({
    lead: 'Hours change how fast it comes, not how much.',
    rest: 'The curve number sheds the same from a short rain and a long one of the same depth.',
  }),
  'plot-level': () => ({
    lead: 'Check which way it drains.',
    rest: 'The plot is so level that no direction of fall can be told from this survey.',
  }),
  'disturbs-an-acre': (values, units) => ({
    lead: 'Ask about a stormwater permit.',
    rest: `${spoken(areaQuantity(number(values['areaSquareMeters']), units))} of bared soil passes the one-acre mark; exemptions differ by state. Ask the state stormwater program.`,
  }),
  'berm-over-low-ground': (values) => ({
    lead: 'Check the berm for damming.',
    rest: `Its lowest ground lies toward the ${compassWord(number(values['towardDegrees']) ?? 0)}.`,
  }),
};

/** The sentence of a finding; a code without one is still said, with its figures as they came. */
export function sentenceOf(finding: Finding, units: UnitSystem): Sentence {
  const write = writers[finding.code];
  if (write) {
    const { lead, rest } = write(finding.values, units);
    return { lead, rest: rest.charAt(0).toUpperCase() + rest.slice(1) };
  }
  const said = finding.code.replace(/-/g, ' ');
  const figures = Object.entries(finding.values)
    .filter(([, value]) => value !== null)
    .map(([key, value]) => `${key}: ${String(value)}`)
    .join(', ');
  return { lead: `${said.charAt(0).toUpperCase()}${said.slice(1)}.`, rest: figures };
}

export const findingCodes: readonly string[] = Object.keys(writers);

const levelOrder = { stop: 0, caution: 1, note: 2 } as const;

/** Stops first, then cautions, then notes; order within a level is kept. */
export function inOrder(findings: readonly Finding[]): readonly Finding[] {
  return [...findings].sort((a, b) => levelOrder[a.level] - levelOrder[b.level]);
}

function number(value: number | string | null | undefined): number | null {
  return typeof value === 'number' ? value : null;
}

function speed(value: number | string | null | undefined, units: UnitSystem): string {
  return typeof value === 'number' ? speedText(value, units) : 'fast';
}

/** What would keep a notch from washing. */
function wayOf(values: Values, units: UnitSystem): string {
  const [wider, stone] = [values['widerBottomMeters'], values['stoneMeters']];
  const lay = typeof stone === 'number' ? `lay stone of ${stoneText(stone, units)}` : 'lay stone';
  return typeof wider === 'number'
    ? `Make its bottom ${spoken(lengthQuantity(wider, units))} wide with grass in it first, or ${lay}.`
    : `No bottom under 60 ft is wide enough: ${lay}.`;
}

function percent(value: number | string | null | undefined): string {
  return typeof value === 'number' ? spoken(shareQuantity(value)) : 'part';
}

function dated(value: number | string | null | undefined): string {
  return typeof value === 'string' && value !== ''
    ? `The ${surveyDate(value)} survey is from`
    : 'The survey is from';
}

function dryText(hours: number | null): string {
  return hours === null ? 'stays until something lets it out' : `stands for ${standsFor(hours)}`;
}
