import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { Aimed } from '../../layers/drawing/aim.ts';
import { compassLetters, figure, lengthQuantity, spoken, type UnitSystem } from './format.ts';
import { kindWords } from './kind-words.ts';

/** What a run is while it is drawn: "214 ft" and "SE 143.2°", true. */
export function legText(
  { lengthMeters, bearingDegrees }: NonNullable<Aimed['leg']>,
  units: UnitSystem,
): { readonly length: string; readonly bearing: string } {
  const tenths = Math.round(bearingDegrees * 10) / 10;
  // 359.96 rounds to 360, which is north.
  const degrees = tenths >= 360 ? 0 : tenths;
  return {
    length: spoken(lengthQuantity(lengthMeters, units)),
    bearing: `${compassLetters(degrees)} ${figure(degrees, 1)}°`,
  };
}

const catchWords = {
  vertex: 'on a corner of',
  edge: 'on the edge of',
  extension: 'in line with',
  perpendicular: 'square to',
} as const;

/** "on the edge of Bench plot"; of what has no name its kind is said. */
export function caughtText(
  caught: NonNullable<Aimed['caught']>,
  features: Readonly<Record<string, PlanFeature>>,
): string {
  const feature = features[caught.featureId];
  const onPoint = feature?.geometry.type === 'Point' && caught.catches === 'vertex';
  const name = feature?.name || (feature ? kindWords[feature.kind].one.toLowerCase() : 'a shape');
  return `${onPoint ? 'on' : catchWords[caught.catches]} ${name}`;
}

/** The lines beside the pointer. */
export function aimLines(
  { leg, caught }: Aimed,
  features: Readonly<Record<string, PlanFeature>>,
  units: UnitSystem,
): string[] {
  const lines: string[] = [];
  if (leg) {
    const { length, bearing } = legText(leg, units);
    lines.push(`${length} · ${bearing}`);
  }
  if (caught) lines.push(caughtText(caught, features));
  return lines;
}
