import type {
  Damming,
  DamPond,
  LettingGap,
  LettingGaps,
  TurnedFlow,
} from '../../geo/answers/dam-answers.ts';
import { areaQuantity, depthQuantity, lengthQuantity, spoken, station, type UnitSystem } from './format.ts'; // prettier-ignore
import { standsFor } from './water-words.ts';

/** "0.66 ac, 1.2 ft at the deepest; dry in 14 days if no more rain falls". */
export function damText(dams: Damming, error: number | null, units: UnitSystem): string {
  if (dams.ponds.length === 0) return 'No water worth listing.';
  const area = spoken(areaQuantity(dams.areaSquareMeters, units));
  const depth = spoken(depthQuantity(dams.maxDepthMeters, error, units));
  const dry =
    dams.hoursToDry === null
      ? 'it stays until something lets it out'
      : `dry in ${standsFor(dams.hoursToDry)} if no more rain falls`;
  return `${area}, ${depth} at the deepest; ${dry}.`;
}

/** "dams 0.66 ac, about 14 in": what stands behind it, for the map. */
export function dammedLabel(pond: DamPond, error: number | null, units: UnitSystem): string {
  const area = spoken(areaQuantity(pond.areaSquareMeters, units));
  return `dams ${area}, ${spoken(depthQuantity(pond.maxDepthMeters, error, units))}`;
}

/** "gap at 2+06", for the map. */
export function gapLabel({ stationMeters }: LettingGap, units: UnitSystem): string {
  return `gap at ${station(stationMeters, units)}`;
}

const pastWords: Readonly<Record<TurnedFlow['passesBy'], string>> = {
  'an-end': 'round an end',
  'a-gap': 'to a gap',
  'its-top': 'over the top',
};

/** One line for each flow line that is turned aside, the largest first. */
export function turnedTexts(turned: readonly TurnedFlow[], units: UnitSystem): string[] {
  return turned
    .toSorted((a, b) => b.catchmentSquareMeters - a.catchmentSquareMeters)
    .map((one) => {
      const from = spoken(areaQuantity(one.catchmentSquareMeters, units));
      const moved = spoken(lengthQuantity(one.movedMeters, units));
      const at = station(one.stationMeters, units);
      return `Water from ${from} comes down to ${at} and goes ${pastWords[one.passesBy]} now, ${moved} off.`;
    });
}

/**
 * "3 gaps of 16 ft, at 2+06, 3+85 and 5+97, let it through; 0.04 ac of shallow water is left."; beside
 * gaps that are drawn already, so many more.
 */
export function gapsText(letting: LettingGaps, drawn: number, units: UnitSystem): string {
  const { gaps, leftAreaSquareMeters } = letting;
  if (gaps.length === 0)
    return `It needs no ${drawn > 0 ? 'more gaps' : 'gap'} to let water through.`;
  const width = spoken(lengthQuantity(gaps[0]!.widthMeters, units));
  const places = gaps.map(({ stationMeters }) => station(stationMeters, units));
  const listed = new Intl.ListFormat('en').format(places);
  const many = gapWords(gaps.length, drawn, width, listed);
  if (leftAreaSquareMeters === 0) return `${many} it through.`;
  const left = spoken(areaQuantity(leftAreaSquareMeters, units));
  return `${many} it through; shallow water on ${left} is left.`;
}

function gapWords(count: number, drawn: number, width: string, places: string): string {
  if (count === 1) return `${drawn > 0 ? 'One more gap' : 'A gap'} of ${width} at ${places} lets`;
  const first = drawn > 0 ? `Beside those drawn, ${count} more gaps` : `${count} gaps`;
  return `${first} of ${width}, at ${places}, let`;
}
