import type { PropertiesOf } from '../plan/kinds.ts';

export type SectionShape = PropertiesOf<'berm'>['section'];

/** What a windrow looks like where it is cut across, metres. */
export interface WindrowSection {
  readonly shape: SectionShape;
  readonly baseWidthMeters: number;
  readonly heightMeters: number;
}

interface Form {
  /** Area over width times height. */
  readonly area: number;
  /** Volume of the section turned about its middle, over width squared times height. */
  readonly turned: number;
  /** From toe to the edge of the top, over width. */
  readonly side: number;
  /** Steepest rise at the toe, over height by width. */
  readonly toe: number;
}

/**
 * Areas wh/2, 2wh/3, πwh/4 (handbook §2) and 3wh/4 for a trapezoid with a top half as wide as its
 * base. Turned they are a cone, a paraboloid, a half ellipsoid and a frustum.
 */
const forms: Readonly<Record<SectionShape, Form>> = {
  triangle: { area: 1 / 2, turned: Math.PI / 12, side: 1 / 2, toe: 2 },
  parabola: { area: 2 / 3, turned: Math.PI / 8, side: 1 / 2, toe: 4 },
  'half-ellipse': { area: Math.PI / 4, turned: Math.PI / 6, side: 1 / 2, toe: Infinity },
  trapezoid: { area: 3 / 4, turned: (7 * Math.PI) / 48, side: 1 / 4, toe: 4 },
};

/** Square metres. A parabola 24 ft wide and 9 ft high has 144 ft². */
export function sectionArea({ shape, baseWidthMeters, heightMeters }: WindrowSection): number {
  return forms[shape].area * baseWidthMeters * heightMeters;
}

/**
 * Volume of both round ends of a windrow together, m³: each is half of the section turned about its
 * middle, so both make one heap as long as the windrow is wide.
 * Example: π × 9 × 24² / 8 = 2,035.75 ft³ for the parabola above.
 */
export function roundEndsVolume({ shape, baseWidthMeters, heightMeters }: WindrowSection): number {
  return forms[shape].turned * baseWidthMeters * baseWidthMeters * heightMeters;
}

/**
 * Metres out for a metre up, from the toe to the edge of the top. Infinity for one without height.
 * Example: 12 / 9 = 1.33 for the parabola above.
 */
export function sideRun({ shape, baseWidthMeters, heightMeters }: WindrowSection): number {
  return heightMeters > 0 ? (forms[shape].side * baseWidthMeters) / heightMeters : Infinity;
}

/** Rise over run at the toe, where the side is steepest; a half ellipse stands upright there. */
export function toeSlope({ shape, baseWidthMeters, heightMeters }: WindrowSection): number {
  return (forms[shape].toe * heightMeters) / baseWidthMeters;
}

/** The section of a height whose sides run so far out for a metre up; the inverse of `sideRun`. */
export function sectionOfHeight(
  shape: SectionShape,
  heightMeters: number,
  run: number,
): WindrowSection {
  return { shape, heightMeters, baseWidthMeters: (run * heightMeters) / forms[shape].side };
}
