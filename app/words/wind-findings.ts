import {
  areaQuantity,
  directions16,
  figure,
  rangeQuantity,
  spoken,
  type UnitSystem,
} from './format.ts';
import type { Finding } from '../../geo/answers/finding.ts';
import type { Sentence, Writer } from './findings.ts';

/** Sentences of the findings about wind and stands. */
export const windWriters: Readonly<Record<string, Writer>> = {
  'wind-record-unread': () => ({
    lead: 'Open the wind record again.',
    rest: 'The one in the plan cannot be read, or nothing says where the site is.',
  }),
  'stand-does-not-work': (values, units) => ({
    lead: 'Do not sit it on this wind.',
    rest: `Scent drifts straight onto ground that it must not reach${off(values['distanceMeters'], units)}.`,
  }),
  'stand-marginal': (values, units) => ({
    lead: 'Sit it on this wind only if you must.',
    rest: `The edge of the drift touches ground that it must not reach${off(values['distanceMeters'], units)}.`,
  }),
  'no-stand-on-mornings': (values) => noStand(values, 'morning'),
  'no-stand-on-evenings': (values) => noStand(values, 'evening'),
  'evening-air-pools': (values, units) => {
    const isHeld = typeof values['holders'] === 'number' && values['holders'] > 0;
    const [meters, area] = [values['meters'], values['areaSquareMeters']];
    const off = typeof meters === 'number' && meters > 0 ? `${spoken(rangeQuantity(meters, units))} off` : 'at the seat'; // prettier-ignore
    const size =
      typeof area === 'number' ? `, about ${spoken(areaQuantity(area, units))} of it` : '';
    return {
      lead: poolLeads[String(values['verdict'])] ?? poolLeads['works']!,
      rest: `Air that drains from it this evening stands ${isHeld ? 'behind what is drawn' : 'in a hollow'} ${off}${size}, and scent with it${values['verdict'] === 'works' ? '' : ', on ground that it must not reach'}.${isHeld ? ' A gap that lets water out there lets the air out.' : ''} Low confidence: try it with powder or milkweed.`,
    };
  },
  'stand-not-missed': (values) => ({
    lead: 'You would hardly miss it.',
    rest: `Only about ${typeof values['hours'] === 'number' ? figure(values['hours'], 0) : 'a few'} legal hours a season work there and at no other stand: move it or save it.`,
  }),
  'no-access-point': () => ({
    lead: 'Set an access point.',
    rest: 'Ways in begin where the truck stops.',
  }),
  'no-lane': () => ({
    lead: 'Find another place for this stand, or sit it only when nothing is near.',
    rest: 'No way in works on any wind that the stand can be sat on.',
  }),
  'no-lane-on-winds': (values) => ({
    lead: `Do not walk in on ${directionList(values['directions'])}.`,
    rest: `The stand can be sat on ${String(values['directions'] ?? '').includes(' ') ? 'them' : 'it'}, but no way in works.`,
  }),
  'no-wind-for-lanes': () => ({
    lead: 'Move the stand before you look for ways in.',
    rest: 'There is no wind that it works on.',
  }),
  'out-gives-away': (values, units) => ({
    lead: 'Have somebody drive in and move the deer off before you climb down.',
    rest: `On the evening air your scent reaches protected ground from ${typeof values['meters'] === 'number' ? spoken(rangeQuantity(values['meters'], units)) : 'a stretch'} of the way out.`,
  }),
  'wind-record-short': (values) => ({
    lead: 'Get a longer wind record.',
    rest: `It covers ${values['seasons'] === 1 ? 'one whole season' : `${typeof values['seasons'] === 'number' ? values['seasons'] : 'too few'} whole seasons`}; under ${typeof values['fewest'] === 'number' ? values['fewest'] : 'three'} a single odd year decides.`,
  }),
};

function noStand({ directions, hours }: Finding['values'], part: string): Sentence {
  return {
    lead: `No stand works on ${directionList(directions)} in the ${part}.`,
    rest: `That is about ${typeof hours === 'number' ? figure(hours, 0) : 'some'} legal ${part} hours a season: look for a place downwind of everything then.`,
  };
}

const poolLeads: Readonly<Record<string, string>> = {
  works: 'Expect your scent to stand below it.',
  marginal: 'Sit it on a still evening only if you must.',
  'does-not': 'Do not sit it on a still evening.',
};

function off(meters: number | string | null | undefined, units: UnitSystem): string {
  if (typeof meters !== 'number') return '';
  return meters === 0 ? ', and begins there' : `, ${spoken(rangeQuantity(meters, units))} off`;
}

function directionList(value: number | string | null | undefined): string {
  const names = String(value ?? '')
    .split(' ')
    .flatMap((index) => directions16[Number(index)] ?? []);
  return names.length === 0 ? 'some winds' : new Intl.ListFormat('en').format(names);
}
