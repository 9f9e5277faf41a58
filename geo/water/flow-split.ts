import type { GridPlace } from '../raster/grid.ts';
import { cornerOf, diagonalOf, ENDS, EQUAL, Facets, straightOf, turnSteps } from './flow-facets.ts';
import { pointerSteps } from './pointer-codes.ts';

/**
 * Where the water of a cell goes: streams read by `from` into `to` and `share`. Shares of a cell
 * sum to 1. Every receiver lies lower, or nearer to where its flat drains, so following them
 * always ends. Triangles that fall equally steeply share equally; two that lead to one and the
 * same corner count once.
 */
export class FlowSplit {
  /** Cells that receive, and their shares; a cell may stand there twice. */
  readonly to = new Int32Array(16);
  readonly share = new Float64Array(16);
  /** By triangle: steps to its straight and its diagonal corner. */
  readonly straight = new Int32Array(8);
  readonly diagonal = new Int32Array(8);
  /** By pointer: the step across a flat. */
  readonly flat: Int32Array;
  private readonly facets: Facets;

  /** @param ways and `shares` as `Facets.row` leaves them for the ground `z` */
  constructor(
    place: GridPlace,
    z: Float32Array,
    readonly ways: Uint8Array,
    readonly shares: Float32Array,
  ) {
    const steps = turnSteps(place.width);
    for (let f = 0; f < 8; f++) {
      this.straight[f] = steps[straightOf(f)]!;
      this.diagonal[f] = steps[diagonalOf(f)]!;
    }
    this.flat = pointerSteps(place.width);
    this.facets = new Facets(place, z);
  }

  /** Streams of a cell: 0 where its water ends. */
  from(cell: number): number {
    const way = this.ways[cell]!;
    if (way < 8) return this.down(cell, way, this.shares[cell]!, 1, 0);
    if (way === ENDS) return 0;
    if (way === EQUAL) return this.equally(cell);
    this.to[0] = cell + this.flat[way - 8]!;
    this.share[0] = 1;
    return 1;
  }

  /** Adds the streams down one triangle, which takes `part` of the water. */
  private down(
    cell: number,
    facet: number,
    toDiagonal: number,
    part: number,
    streams: number,
  ): number {
    if (toDiagonal < 1) {
      this.to[streams] = cell + this.straight[facet]!;
      this.share[streams++] = part * (1 - toDiagonal);
    }
    if (toDiagonal > 0) {
      this.to[streams] = cell + this.diagonal[facet]!;
      this.share[streams++] = part * toDiagonal;
    }
    return streams;
  }

  /** Few cells: their triangles are looked at again. */
  private equally(cell: number): number {
    let mask = this.facets.steepest(cell);
    let corners = 0;
    let ways = 0;
    for (let f = 0; f < 8; f++) {
      if (!((mask >> f) & 1)) continue;
      const share = this.facets.shareOf(f);
      if (share === 0 || share === 1) {
        const corner = 1 << cornerOf(f, share);
        if (corners & corner) {
          mask &= ~(1 << f);
          continue;
        }
        corners |= corner;
      }
      ways++;
    }
    let streams = 0;
    for (let f = 0; f < 8; f++) {
      if (!((mask >> f) & 1)) continue;
      streams = this.down(cell, f, this.facets.shareOf(f), 1 / ways, streams);
    }
    return streams;
  }
}
