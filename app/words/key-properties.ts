import type { Kind } from '../../geo/plan/kinds.ts';

/** The few properties of a kind that decide something, for a line of the table; in its order. */
export const keyProperties: Readonly<Record<Kind, readonly string[]>> = {
  'property-line': ['basis'],
  plot: ['weapon'],
  clearing: ['clearedOn'],
  'timber-block': ['heightMeters', 'stumps'],
  berm: ['baseWidthMeters', 'heightMeters'],
  heap: ['widthMeters', 'heightMeters'],
  stand: ['facingDegrees', 'seatHeightMeters'],
  lane: [],
  'access-point': ['use'],
  'bedding-area': [],
  'travel-corridor': ['widthMeters'],
  'no-go': ['reason', 'detail'],
  ditch: ['bottomWidthMeters', 'depthMeters'],
  outlet: [],
  culvert: ['diameterMeters'],
  'power-line': ['kilovolts'],
  'buried-line': ['carries', 'locatedOn'],
  structure: ['use', 'ownedBy'],
  'soil-sample': ['bag', 'ph'],
  'soil-area': ['series', 'hydrologicGroup'],
  'section-line': [],
  note: ['about', 'text'],
};
