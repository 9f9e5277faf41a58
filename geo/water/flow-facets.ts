import type { GridPlace } from '../raster/grid.ts';

/**
 * The eight triangles round a cell. Neighbours by the turn from east, triangle f lies between
 * neighbours f and f + 1; each has a straight corner (even) and a diagonal one (odd).
 *
 *     3 2 1
 *     4 · 0
 *     5 6 7
 */
export const straightOf = (facet: number): number => (facet + 1) & 6;
export const diagonalOf = (facet: number): number => facet | 1;

/** Steps of the eight neighbours in the index. */
export function turnSteps(width: number): Int32Array {
  return Int32Array.of(1, 1 - width, -width, -1 - width, -1, width - 1, width, width + 1);
}

/** How water leaves a cell: 0 to 7 down that triangle, 8 to 15 a pointer across a flat, or: */
export const ENDS = 16;
/** Several triangles fall equally steeply. */
export const EQUAL = 17;

/** The steepest triangles of single cells, equal ones among them; scratch inside, so one a run. */
export class Facets {
  /** Drops to the neighbours, metres. */
  private readonly drops = new Float64Array(8);
  /** By triangle: 1 / step² to the straight corner, 1 / side² on to the diagonal one, side² / step². */
  private readonly perStepSquared = new Float64Array(8);
  private readonly perSideSquared = new Float64Array(8);
  private readonly sideOverStep = new Float64Array(8);
  private readonly perDiagonalSquared: number;

  constructor(
    private readonly place: GridPlace,
    private readonly z: Float32Array,
  ) {
    const across = place.cellWidth * place.cellWidth;
    const down = place.cellHeight * place.cellHeight;
    this.perDiagonalSquared = 1 / (across + down);
    for (let f = 0; f < 8; f++) {
      const sideways = (straightOf(f) & 2) === 0;
      this.perStepSquared[f] = 1 / (sideways ? across : down);
      this.perSideSquared[f] = 1 / (sideways ? down : across);
      this.sideOverStep[f] = sideways ? down / across : across / down;
    }
  }

  /** Writes the way of a cell with all neighbours and a lower one among them. */
  write(cell: number, ways: Uint8Array, shares: Float32Array): void {
    const mask = this.steepest(cell);
    const facet = 31 - Math.clz32(mask);
    const share = this.shareOf(facet);
    const one = mask === 1 << facet || this.sameCorner(mask, facet, share);
    ways[cell] = one ? facet : EQUAL;
    shares[cell] = share;
  }

  /** Bits of the triangles that fall most steeply from a cell with all neighbours; 0 if none falls. */
  steepest(cell: number): number {
    this.lookRound(cell);
    let best = 0;
    let mask = 0;
    for (let f = 0; f < 8; f++) {
      const slope = this.slopeSquared(f);
      if (slope > best) {
        best = slope;
        mask = 1 << f;
      } else if (slope === best && slope > 0) mask |= 1 << f;
    }
    return mask;
  }

  private lookRound(cell: number): void {
    const { drops, z } = this;
    const above = cell - this.place.width;
    const below = cell + this.place.width;
    const own = z[cell]!;
    drops[0] = own - z[cell + 1]!;
    drops[1] = own - z[above + 1]!;
    drops[2] = own - z[above]!;
    drops[3] = own - z[above - 1]!;
    drops[4] = own - z[cell - 1]!;
    drops[5] = own - z[below - 1]!;
    drops[6] = own - z[below]!;
    drops[7] = own - z[below + 1]!;
  }

  /**
   * Slope² of a triangle as Tarboton 1997 gives it: along its own fall when that lies inside, else
   * along the nearer side; 0 where it does not fall.
   */
  private slopeSquared(facet: number): number {
    const fall = this.drops[(facet + 1) & 6]!;
    const diagonal = this.drops[facet | 1]!;
    const on = diagonal - fall;
    if (on <= 0) return fall > 0 ? fall * fall * this.perStepSquared[facet]! : 0;
    if (on >= fall * this.sideOverStep[facet]!) {
      return diagonal > 0 ? diagonal * diagonal * this.perDiagonalSquared : 0;
    }
    return fall * fall * this.perStepSquared[facet]! + on * on * this.perSideSquared[facet]!;
  }

  /** The diagonal corner's share: tangent of the fall's angle over that of the diagonal. */
  shareOf(facet: number): number {
    const fall = this.drops[(facet + 1) & 6]!;
    const on = this.drops[facet | 1]! - fall;
    if (on <= 0) return 0;
    const whole = fall * this.sideOverStep[facet]!;
    return on >= whole ? 1 : on / whole;
  }

  /** Whether all triangles of a mask lead to one and the same corner. */
  private sameCorner(mask: number, facet: number, share: number): boolean {
    if (share > 0 && share < 1) return false;
    const corner = cornerOf(facet, share);
    for (let f = 0; f < 8; f++) {
      if (!((mask >> f) & 1)) continue;
      const theirs = this.shareOf(f);
      if ((theirs > 0 && theirs < 1) || cornerOf(f, theirs) !== corner) return false;
    }
    return true;
  }
}

/** The corner of a triangle that gets all, for a share of 0 or 1. */
export const cornerOf = (facet: number, share: number): number =>
  share === 0 ? straightOf(facet) : diagonalOf(facet);
