import type { GridPlace } from '../raster/grid.ts';
import { NO_DATA, OUTLET } from './pointer-codes.ts';

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

/** Finds the steepest triangles of cells of one size; scratch inside, so one a run. */
export class Facets {
  /** Drops to the neighbours, metres, and down slopes to them. */
  private readonly drops = new Float64Array(8);
  private readonly slopes = new Float64Array(8);
  private readonly perMeter = new Float64Array(8);
  /** By triangle: 1 / step² to the straight corner, 1 / side² on to the diagonal one, side² / step². */
  private readonly perStepSquared = new Float64Array(8);
  private readonly perSideSquared = new Float64Array(8);
  private readonly sideOverStep = new Float64Array(8);
  private readonly perDiagonalSquared: number;
  /** A triangle is at most so much less steep along its steeper side than along its own fall. */
  private readonly least: number;

  constructor(
    private readonly place: GridPlace,
    private readonly z: Float32Array,
  ) {
    const { cellWidth, cellHeight } = place;
    const across = cellWidth * cellWidth;
    const down = cellHeight * cellHeight;
    this.perDiagonalSquared = 1 / (across + down);
    for (let k = 0; k < 8; k++) {
      this.perMeter[k] = 1 / Math.sqrt(k & 1 ? across + down : k & 2 ? down : across);
      const sideways = (straightOf(k) & 2) === 0;
      this.perStepSquared[k] = 1 / (sideways ? across : down);
      this.perSideSquared[k] = 1 / (sideways ? down : across);
      this.sideOverStep[k] = sideways ? down / across : across / down;
    }
    const widest = Math.atan(Math.max(cellWidth / cellHeight, cellHeight / cellWidth));
    this.least = 0.999 * Math.cos(widest / 2);
  }

  /** Ways of one row's cells and, for those down a triangle, the share of its diagonal corner. */
  row(row: number, pointers: Uint8Array, ways: Uint8Array, shares: Float32Array): void {
    const { width } = this.place;
    for (let cell = row * width; cell < (row + 1) * width; cell++) {
      const pointer = pointers[cell]!;
      if (pointer === OUTLET || pointer === NO_DATA) {
        ways[cell] = ENDS;
        continue;
      }
      const mask = this.steepest(cell);
      if (mask === 0) {
        ways[cell] = pointer < 8 ? 8 + pointer : ENDS;
        continue;
      }
      const facet = 31 - Math.clz32(mask);
      const share = this.shareOf(facet);
      const one = mask === 1 << facet || this.sameCorner(mask, facet, share);
      ways[cell] = one ? facet : EQUAL;
      shares[cell] = share;
    }
  }

  /** Bits of the triangles that fall most steeply from a cell with all neighbours; 0 if none falls. */
  steepest(cell: number): number {
    const lead = this.lookRound(cell);
    if (lead < 0) return 0;
    const { slopes } = this;
    const before = (lead + 7) & 7;
    let best = this.slopeSquared(before);
    let mask = 1 << before;
    let seen = mask | (1 << lead);
    const after = this.slopeSquared(lead);
    if (after > best) {
      best = after;
      mask = 1 << lead;
    } else if (after === best) mask = seen;
    const limit = slopes[lead]! * this.least;
    for (let k = 0; k < 8; k++) {
      if (slopes[k]! < limit || k === lead) continue;
      for (let f = k + 7; f <= k + 8; f++) {
        const bit = 1 << (f & 7);
        if (seen & bit) continue;
        seen |= bit;
        const slope = this.slopeSquared(f & 7);
        if (slope > best) {
          best = slope;
          mask = bit;
        } else if (slope === best) mask |= bit;
      }
    }
    return mask;
  }

  /** Drops and slopes to the eight neighbours; returns the steepest one, -1 if none lies lower. */
  private lookRound(cell: number): number {
    const { drops, slopes, perMeter, z } = this;
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
    let lead = -1;
    let most = 0;
    for (let k = 0; k < 8; k++) {
      const slope = drops[k]! * perMeter[k]!;
      slopes[k] = slope;
      if (slope > most) {
        most = slope;
        lead = k;
      }
    }
    return lead;
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
