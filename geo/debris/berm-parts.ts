import type { PropertiesOf } from '../plan/kinds.ts';

/** Rounding of a berm's corners leaves so much beside a gap at its end, metres: no berm. */
const SLIVER = 0.01;

/** The stations between gaps; a gap is centred on its station and may overlap another. */
export function solidParts(
  lengthMeters: number,
  gaps: PropertiesOf<'berm'>['gaps'],
): [from: number, to: number][] {
  const open = gaps
    .map(({ stationMeters, widthMeters }): [number, number] => [
      stationMeters - widthMeters / 2,
      stationMeters + widthMeters / 2,
    ])
    .sort((a, b) => a[0] - b[0]);
  const parts: [number, number][] = [];
  let from = 0;
  for (const [start, end] of open) {
    if (start > from) parts.push([from, Math.min(start, lengthMeters)]);
    from = Math.max(from, end);
    if (from >= lengthMeters) break;
  }
  if (from < lengthMeters) parts.push([from, lengthMeters]);
  return parts.filter(([a, b]) => b - a > SLIVER);
}
