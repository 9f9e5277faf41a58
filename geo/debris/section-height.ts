import type { PropertiesOf } from '../plan/kinds.ts';

/**
 * Height of a windrow's section at a distance from its middle, metres; the four shapes of
 * handbook §2 (areas wh/2, 2wh/3, πwh/4; the trapezoid with a top half as wide as its base).
 * Nothing beyond the base. Example: a parabola 24 ft wide and 9 ft high is 6.75 ft at 6 ft out.
 */
export function sectionHeight(
  shape: PropertiesOf<'berm'>['section'],
  baseWidthMeters: number,
  heightMeters: number,
  distanceMeters: number,
): number {
  const share = distanceMeters / (baseWidthMeters / 2);
  if (!(share < 1)) return 0;
  if (shape === 'triangle') return heightMeters * (1 - share);
  if (shape === 'parabola') return heightMeters * (1 - share * share);
  if (shape === 'half-ellipse') return heightMeters * Math.sqrt(1 - share * share);
  return heightMeters * Math.min(1, 2 * (1 - share));
}
