import { placeAt } from '../plan/line-geometry.ts';
import type { Grid } from '../raster/grid.ts';
import { cellAt, sampleBilinear } from '../raster/sample.ts';
import type { NotchDesign } from './notch.ts';

/** Where the dirt out of a notch goes. */
export interface SpoilStrip {
  /** On the lower side along the cut, or spread in the low spot itself where that does not do. */
  readonly place: 'alongside' | 'low-spot';
  /** Seen from the low spot outward. */
  readonly side: 'left' | 'right';
  /** Unit vector in the frame from the notch to the strip. */
  readonly toward: readonly [number, number];
  readonly lengthMeters: number;
  readonly widthMeters: number;
  readonly thicknessMeters: number;
  /** Mean way that the dirt is pushed. */
  readonly pushMeters: number;
}

export interface SpoilOptions {
  /** 6 in when not given: common practice, no source. */
  readonly thicknessMeters?: number;
  /** A wider strip is spread in the low spot instead; 60 ft when not given. */
  readonly mostWidthMeters?: number;
  /** As in `drainPath`; no spoil on barred ground. */
  readonly blocked?: Uint8Array | null;
  /** Area of the low spot. */
  readonly spotSquareMeters: number;
}

/**
 * The strip that takes a notch's spoil: its loose volume over the length that is cut and the
 * thickness. It lies beyond the edge of the cut on the side where the ground is lower, so that it
 * turns no water away from the notch; on the other side if the lower one is barred or unknown.
 * Throws RangeError for a thickness not above 0.
 * Example: 78 loose yd³ along 88 ft, 6 in thick, is 48 ft wide.
 */
export function spoilStrip(ground: Grid, design: NotchDesign, options: SpoilOptions): SpoilStrip {
  const { thicknessMeters = 0.1524, mostWidthMeters = 18.288, blocked = null } = options;
  if (!(thicknessMeters > 0)) throw new RangeError(`a thickness of ${thicknessMeters} m`);
  const lengthMeters = design.lastCutMeters > 0 ? design.lastCutMeters : design.lengthMeters;
  const widthMeters = design.looseCubicMeters.likely / lengthMeters / thicknessMeters;
  const sides = (['left', 'right'] as const)
    .map((side) => ({ side, ...sideOf(ground, design, side, lengthMeters, widthMeters, blocked) }))
    .toSorted((a, b) => a.height - b.height);
  const free = sides.find(({ isFree }) => isFree);
  const alongside = free !== undefined && widthMeters <= mostWidthMeters;
  const { side, toward } = free ?? sides[0]!;
  const intoSpot = lengthMeters / 2 + Math.sqrt(options.spotSquareMeters / Math.PI) / 2;
  return {
    place: alongside ? 'alongside' : 'low-spot',
    side,
    toward,
    lengthMeters,
    widthMeters,
    thicknessMeters,
    pushMeters: alongside ? design.reachMeters + widthMeters / 2 : intoSpot,
  };
}

/** Mean height of a side's strip, whether spoil may lie there, and the way to its middle. */
function sideOf(
  ground: Grid,
  { line, reachMeters }: NotchDesign,
  side: SpoilStrip['side'],
  length: number,
  width: number,
  blocked: Uint8Array | null,
) {
  const turn = side === 'left' ? 1 : -1;
  const step = Math.min(ground.cellWidth, ground.cellHeight);
  const along = Math.max(1, Math.ceil(length / step));
  // A strip that is far too wide is not followed to its end: it is not laid there anyway.
  const across = Math.max(1, Math.ceil(Math.min(width, 100) / step));
  let isFree = true;
  let sum = 0;
  let count = 0;
  const { along: middle } = placeAt(line, length / 2);
  for (let i = 0; i <= along; i++) {
    const { at, along: way } = placeAt(line, (length * i) / along);
    for (let k = 0; k <= across; k++) {
      const out = turn * (reachMeters + (Math.min(width, 100) * k) / across);
      const [x, y] = [at[0] - way[1] * out, at[1] + way[0] * out];
      const z = sampleBilinear(ground, x, y);
      const cell = cellAt(ground, x, y);
      if (Number.isNaN(z) || cell < 0 || (blocked !== null && blocked[cell] !== 0)) isFree = false;
      if (Number.isNaN(z)) continue;
      sum += z;
      count++;
    }
  }
  return {
    isFree,
    height: count === 0 ? Infinity : sum / count,
    toward: [-middle[1] * turn, middle[0] * turn] as const,
  };
}
