import type { ClearingWay, WayKind } from '../../geo/answers/debris-answers.ts';
import type { LowHigh } from '../../geo/debris/low-high.ts';
import { clearanceWords } from './debris-findings.ts';
import { areaQuantity, figure, lengthQuantity, shareQuantity, spoken, type UnitSystem } from './format.ts'; // prettier-ignore

/** The three ways to lay debris, in words. */
export const wayWords: Readonly<Record<WayKind, { readonly name: string; readonly why: string }>> =
  {
    heaps: {
      name: 'Brush piles',
      why: 'Short pushes. One may carry a blind if it will never burn, and it settles 20 to 40 % first.',
    },
    'edge-berm': {
      name: 'Edge berm with gaps',
      why: 'It lies along the outline, half of its width inside and half outside: look that the ground outside is yours to use. It screens, and it can dam or turn water.',
    },
    'centre-windrow': {
      name: 'Center windrow, burned in winter',
      why: 'Planted around this fall; next fall only what the fire leaves is heaped.',
    },
  };

/** "19 h (11 to 28)", "1,300 h (400 to 3,700)": two figures, as the range stands round them. */
export function hoursText({ low, likely, high }: LowHigh): string {
  const plain = (hours: number) => figure(Number(hours.toPrecision(2)), hours < 10 ? 1 : 0);
  return `${plain(likely)} h (${plain(low)} to ${plain(high)})`;
}

/** "10 h": one estimate of several that a range stands over. */
export function plainHours(hours: number): string {
  return `${figure(Number(hours.toPrecision(2)), hours < 5 ? 1 : 0)} h`;
}

/** "2,700 (1,600 to 4,000)": the plan's own money, to two figures. */
export function costText({ low, likely, high }: LowHigh): string {
  const plain = (value: number) => figure(Number(value.toPrecision(2)), 0);
  return `${plain(likely)} (${plain(low)} to ${plain(high)})`;
}

/** What it does to the water, brim full. */
export function waterText(
  { dammedSquareMeters, turnedSquareMeters }: ClearingWay,
  units: UnitSystem,
): string {
  if (dammedSquareMeters === null) return 'not known without ground';
  const dams = dammedSquareMeters > 0 ? `dams ${spoken(areaQuantity(dammedSquareMeters, units))}` : 'dams nothing'; // prettier-ignore
  if (!turnedSquareMeters) return dams;
  return `${dams}; turns aside what runs off ${spoken(areaQuantity(turnedSquareMeters, units))}`;
}

/** "A1 59 %, A2 58 %": what each seat near still sees of the plot. */
export function sightText({ seats }: ClearingWay, nameOf: (id: string) => string): string {
  if (seats.length === 0) return 'no stand near';
  return seats
    .map(({ standId, seenShare }) => `${nameOf(standId)} ${spoken(shareQuantity(seenShare))}`)
    .join(', ');
}

/** How much of the approach lanes can be seen from the plot. */
export function laneText({ laneSeenShare, laneSeenShareBefore }: ClearingWay): string {
  if (laneSeenShare === null || laneSeenShareBefore === null) return 'no lane near';
  return `${spoken(shareQuantity(laneSeenShare))} in sight, ${spoken(shareQuantity(laneSeenShareBefore))} without`;
}

/** Each clearance that falls short, or the least that is left over; never that it may burn. */
export function burnText({ features, distances }: ClearingWay, units: UnitSystem): string {
  if (!features.some(({ properties }) => properties.toBurn)) return 'not to be burned';
  const short = distances.flatMap(({ from, meters, rules }) => {
    const usual = rules.find(({ source }) => source === 'usual');
    if (!usual || usual.shortMeters === 0) return [];
    return [`${spoken(lengthQuantity(meters, units))} from ${clearanceWords(from)}, ${spoken(lengthQuantity(usual.meters, units))} is usual`]; // prettier-ignore
  });
  if (short.length > 0) return `too near: ${short.join('; ')}`;
  if (distances.length === 0) return 'nothing near is drawn: not known';
  const nearest = distances.toSorted((a, b) => a.meters - b.meters)[0]!;
  return `nearest ${clearanceWords(nearest.from)}, ${spoken(lengthQuantity(nearest.meters, units))} off: ask first`; // prettier-ignore
}

export function pushText(
  { meanPushMeters, greatestPushMeters, uphillShare }: ClearingWay,
  units: UnitSystem,
): string {
  if (meanPushMeters === null || greatestPushMeters === null) return 'not known';
  const far = `${spoken(lengthQuantity(meanPushMeters, units))}, to ${spoken(lengthQuantity(greatestPushMeters, units))}`; // prettier-ignore
  return uphillShare === null ? far : `${far}; ${spoken(shareQuantity(uphillShare))} up hill`;
}
