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
 * "3 gaps of 16 ft, at 2+06, 3+85 and 5+97, let it through; 0.04 ac, 11 in at the deepest, is left,
 * under a tenth of what it would dam without gaps."; beside gaps that are drawn already, so many more.
 */
export function gapsText(
  letting: LettingGaps,
  drawn: number,
  error: number | null,
  units: UnitSystem,
): string {
  const { gaps } = letting;
  const left = leftText(letting, error, units);
  if (gaps.length === 0) {
    if (!letting.isThrough)
      return `No more gaps would let it through: ${left}. Lay the berm elsewhere.`;
    const none = `For the water alone it needs no ${drawn > 0 ? 'more gaps' : 'gap'}`;
    return left === ''
      ? `${none}.`
      : `${none}: ${left}, under a tenth of what it would dam without gaps.`;
  }
  const width = spoken(lengthQuantity(gaps[0]!.widthMeters, units));
  const places = gaps.map(({ stationMeters }) => station(stationMeters, units));
  const listed = new Intl.ListFormat('en').format(places);
  const many = gapWords(gaps.length, drawn, width, listed);
  if (left === '') return `${many} it through.`;
  return letting.isThrough
    ? `${many} it through; ${left}, under a tenth of what it would dam without gaps.`
    : `${many} some of it through; ${left}. Lay the berm elsewhere.`;
}

/** "0.04 ac, 11 in at the deepest, is left"; nothing where nothing is. */
function leftText(
  { leftAreaSquareMeters, leftMaxDepthMeters }: LettingGaps,
  error: number | null,
  units: UnitSystem,
): string {
  if (leftAreaSquareMeters === 0) return '';
  const depth = spoken(depthQuantity(leftMaxDepthMeters, error, units));
  return `${spoken(areaQuantity(leftAreaSquareMeters, units))}, ${depth} at the deepest, is left`;
}

function gapWords(count: number, drawn: number, width: string, places: string): string {
  if (count === 1)
    return `For the water alone, ${drawn > 0 ? 'one more gap' : 'a gap'} of ${width} at ${places} lets`;
  const first = `For the water alone, ${count} ${drawn > 0 ? 'more gaps' : 'gaps'}`;
  return `${first} of ${width}, at ${places}, let`;
}
