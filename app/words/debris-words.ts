import type { BermGaps } from '../../geo/answers/debris-answers.ts';
import type { GapReason } from '../../geo/debris/gap-stations.ts';
import type { LowHigh } from '../../geo/debris/low-high.ts';
import type { SpeciesGroup } from '../../geo/debris/timber-mass.ts';
import {
  cubicYardsFromCubicMeters,
  feetFromMeters,
  inchesFromMeters,
} from '../../geo/frame/units.ts';
import { figure, lengthQuantity, shareQuantity, spoken, station, tape, type Quantity, type UnitSystem } from './format.ts'; // prettier-ignore

/** Debris in the units of the trade: short tons dry, loose cubic yards, truck loads. */

const SHORT_TON_KG = 907.18474;

/** Species groups as the trade names them; the groups are those of the published equations. */
export const speciesWords: Readonly<Record<SpeciesGroup, string>> = {
  'aspen-alder-cottonwood-willow': 'aspen, alder, cottonwood, willow',
  'soft-maple-birch': 'soft maple, birch',
  'mixed-hardwood': 'mixed hardwood (ash, tulip tree …)',
  'hard-maple-oak-hickory-beech': 'oak, hickory, hard maple, beech',
  'cedar-larch': 'cedar, larch',
  'douglas-fir': 'Douglas-fir',
  'true-fir-hemlock': 'fir, hemlock',
  pine: 'pine',
  spruce: 'spruce',
  'juniper-oak-mesquite': 'juniper, mesquite, scrub oak',
};

/** Two figures are as many as an estimate of debris holds; three from a thousand on. */
function rounded(value: number): string {
  if (value < 0.05) return '0';
  const digits = value >= 1000 ? 3 : 2;
  return figure(Number(value.toPrecision(digits)), value < 10 ? 1 : 0);
}

/** Dry mass: short tons; metric: tonnes. */
export function massQuantity(kilograms: number, units: UnitSystem): Quantity {
  const [value, unit] =
    units === 'metric' ? [kilograms / 1000, 't'] : [kilograms / SHORT_TON_KG, 'tons'];
  return { about: true, text: rounded(value), unit };
}

/** "173 to 192 tons". */
export function massRange({ low, high }: LowHigh, units: UnitSystem): string {
  return `${massQuantity(low, units).text} to ${spoken(massQuantity(high, units)).replace('about ', '')}`;
}

export function volumeUnit(units: UnitSystem): string {
  return units === 'metric' ? 'm³' : 'yd³';
}

function inVolume(cubicMeters: number, units: UnitSystem): number {
  return units === 'metric' ? cubicMeters : cubicYardsFromCubicMeters(cubicMeters);
}

/** "3,240 yd³" of debris: as many figures as tell one estimate from the next. */
export function debrisQuantity(cubicMeters: number, units: UnitSystem): Quantity {
  return { about: true, text: rounded(inVolume(cubicMeters, units)), unit: volumeUnit(units) };
}

/** "2,300 to 5,860": the low and high of a figure already given. */
export function debrisRange({ low, high }: LowHigh, units: UnitSystem): string {
  return `${rounded(inVolume(low, units))} to ${rounded(inVolume(high, units))}`;
}

/** "about 3,240 yd³ (2,300 to 5,860)". */
export function debrisText(volume: LowHigh, units: UnitSystem): string {
  return `${spoken(debrisQuantity(volume.likely, units))} (${debrisRange(volume, units)})`;
}

/** "about 580 ft (440 to 980)": a length that an estimate of debris asks for. */
export function lengthRange({ low, likely, high }: LowHigh, units: UnitSystem): string {
  const plain = (meters: number) => rounded(units === 'metric' ? meters : feetFromMeters(meters));
  return `${aboutLength(likely, units)} (${plain(low)} to ${plain(high)})`;
}

/** "about 580 ft". */
export function aboutLength(meters: number, units: UnitSystem): string {
  return units === 'metric'
    ? `about ${rounded(meters)} m`
    : `about ${rounded(feetFromMeters(meters))} ft`;
}

/** Stumps or trees counted from a tally: "1,330", "180". */
export function roundCount(count: number): string {
  return rounded(count);
}

/** "270 (190 to 490)". */
export function countText({ low, likely, high }: LowHigh): string {
  return `${rounded(likely)} (${rounded(low)} to ${rounded(high)})`;
}

/** Topsoil that goes: tenths of an inch, or millimetres. */
export function soilDepthText({ low, likely, high }: LowHigh, units: UnitSystem): string {
  const [shown, unit] =
    units === 'metric'
      ? [(meters: number) => figure(meters * 1000, 0), 'mm']
      : [(meters: number) => figure(inchesFromMeters(meters), 1), 'in'];
  if (inchesFromMeters(likely) < 0.05) return units === 'metric' ? 'under 1 mm' : 'under 0.1 in';
  return `${shown(likely)} ${unit} (${shown(low)} to ${shown(high)})`;
}

/** "24 ft × 9 ft 3 in parabola". */
export function sectionText(
  {
    baseWidthMeters,
    heightMeters,
  }: { readonly baseWidthMeters: number; readonly heightMeters: number },
  units: UnitSystem,
): string {
  return `${tape(baseWidthMeters, units)} wide, ${tape(heightMeters, units)} high`;
}

const gapReasons: Readonly<Record<GapReason, string>> = {
  water: 'water',
  corridor: 'travel corridor',
  lane: 'lane',
  stand: 'by a stand',
  wildlife: 'wildlife',
};

/** "1+25, 16 ft: water, lane". */
export function gapText(
  gap: {
    readonly stationMeters: number;
    readonly widthMeters: number;
    readonly reasons: readonly GapReason[];
  },
  units: UnitSystem,
): string {
  const reasons = gap.reasons.map((reason) => gapReasons[reason]).join(', ');
  return `${station(gap.stationMeters, units)}, ${spoken(lengthQuantity(gap.widthMeters, units))}: ${reasons}`;
}

/** "A1 sees 67 % of the plots near it, 71 % with these gaps, 99 % without the berm." */
export function seatText(seat: BermGaps['seats'][number], name: string): string {
  const share = (value: number) => spoken(shareQuantity(value));
  return `${name || 'A stand'} sees ${share(seat.seenShare)} of the plots near it, ${share(seat.seenShareWithGaps)} with these gaps, ${share(seat.seenShareBefore)} without the berm.`;
}
