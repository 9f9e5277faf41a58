import type { GridPlace } from '../raster/grid.ts';
import { ENDS, Facets } from './flow-facets.ts';
import { pointerSteps } from './pointer-codes.ts';

/**
 * How water leaves every cell of a row, by D-infinity (Tarboton 1997): `ways` as in `flow-facets`
 * and, down a triangle, the share of its diagonal corner. Of all lines down the triangles the
 * steepest runs either to a neighbour or inside a triangle along its own fall, so the steepest of
 * each sort is enough; where two are equally steep, `Facets` looks again. Row-major, row 0 north,
 * metres, no data by its pointer; the same to the last bit as `Facets` for every cell.
 */
export class FlowWays {
  private readonly facets: Facets;
  private readonly flat: Int32Array;

  constructor(
    private readonly place: GridPlace,
    private readonly z: Float32Array,
  ) {
    this.facets = new Facets(place, z);
    this.flat = pointerSteps(place.width);
  }

  /** @param pointers as `flowPointers` gives them for the same ground */
  row(row: number, pointers: Uint8Array, ways: Uint8Array, shares: Float32Array): void {
    const { z, flat, facets } = this;
    const { width, cellWidth, cellHeight } = this.place;
    const across = cellWidth * cellWidth;
    const down = cellHeight * cellHeight;
    // One over the square of a step east or west, north or south, and to a corner.
    const ew = 1 / across;
    const ns = 1 / down;
    const corner = 1 / (across + down);
    // A triangle's fall lies inside it up to this much on its far side for each metre on its step.
    const ewMost = down / across;
    const nsMost = across / down;
    for (let cell = row * width; cell < (row + 1) * width; cell++) {
      const pointer = pointers[cell]!;
      if (pointer >= 8) {
        ways[cell] = ENDS;
        continue;
      }
      const own = z[cell]!;
      // A pointer leads to the lowest neighbour: where that is level, none lies lower.
      if (z[cell + flat[pointer]!] === own) {
        ways[cell] = 8 + pointer;
        continue;
      }
      const e = own - z[cell + 1]!;
      const ne = own - z[cell - width + 1]!;
      const n = own - z[cell - width]!;
      const nw = own - z[cell - width - 1]!;
      const w = own - z[cell - 1]!;
      const sw = own - z[cell + width - 1]!;
      const s = own - z[cell + width]!;
      const se = own - z[cell + width + 1]!;

      // The steepest neighbour.
      const s0 = toward(e, ew);
      const s1 = toward(ne, corner);
      const s2 = toward(n, ns);
      const s3 = toward(nw, corner);
      const s4 = toward(w, ew);
      const s5 = toward(sw, corner);
      const s6 = toward(s, ns);
      const s7 = toward(se, corner);
      const most = more(more(more(s0, s1), more(s2, s3)), more(more(s4, s5), more(s6, s7)));

      // The steepest triangle whose fall lies inside it.
      let best = most;
      let facet = -1;
      let step = 0;
      let diagonal = 0;
      let isTied = false;
      const f0 = inside(e, ne, ew, ns, ewMost);
      if (f0 >= best) {
        isTied = f0 === best;
        best = f0;
        facet = 0;
        step = e;
        diagonal = ne;
      }
      const f1 = inside(n, ne, ns, ew, nsMost);
      if (f1 >= best) {
        isTied = f1 === best;
        best = f1;
        facet = 1;
        step = n;
        diagonal = ne;
      }
      const f2 = inside(n, nw, ns, ew, nsMost);
      if (f2 >= best) {
        isTied = f2 === best;
        best = f2;
        facet = 2;
        step = n;
        diagonal = nw;
      }
      const f3 = inside(w, nw, ew, ns, ewMost);
      if (f3 >= best) {
        isTied = f3 === best;
        best = f3;
        facet = 3;
        step = w;
        diagonal = nw;
      }
      const f4 = inside(w, sw, ew, ns, ewMost);
      if (f4 >= best) {
        isTied = f4 === best;
        best = f4;
        facet = 4;
        step = w;
        diagonal = sw;
      }
      const f5 = inside(s, sw, ns, ew, nsMost);
      if (f5 >= best) {
        isTied = f5 === best;
        best = f5;
        facet = 5;
        step = s;
        diagonal = sw;
      }
      const f6 = inside(s, se, ns, ew, nsMost);
      if (f6 >= best) {
        isTied = f6 === best;
        best = f6;
        facet = 6;
        step = s;
        diagonal = se;
      }
      const f7 = inside(e, se, ew, ns, ewMost);
      if (f7 >= best) {
        isTied = f7 === best;
        best = f7;
        facet = 7;
        step = e;
        diagonal = se;
      }
      if (isTied) {
        facets.write(cell, ways, shares);
        continue;
      }
      if (facet >= 0) {
        const on = diagonal - step;
        ways[cell] = facet;
        shares[cell] = on / (step * ((facet + 1) & 2 ? nsMost : ewMost));
        continue;
      }
      const to = onlyOf(most, s0, s1, s2, s3, s4, s5, s6, s7);
      if (to < 0) {
        facets.write(cell, ways, shares);
        continue;
      }
      // Of the two triangles beside the neighbour the one with the higher number stands for both.
      ways[cell] = to === 0 ? 7 : to;
      shares[cell] = to & 1;
    }
  }
}

/** Slope² down to a neighbour; 0 if it lies higher. */
function toward(drop: number, perSquare: number): number {
  return drop > 0 ? drop * drop * perSquare : 0;
}

/** Slope² of a triangle along its own fall; 0 if that does not lie inside it. */
function inside(
  step: number,
  diagonal: number,
  perStep: number,
  perSide: number,
  most: number,
): number {
  const on = diagonal - step;
  return on <= 0 || on >= step * most ? 0 : step * step * perStep + on * on * perSide;
}

/** Not `Math.max`, which minds NaN and -0 and takes ten times as long. */
function more(one: number, other: number): number {
  return one > other ? one : other;
}

/** Which of eight equals the value; -1 if several do. */
function onlyOf(
  value: number,
  s0: number,
  s1: number,
  s2: number,
  s3: number,
  s4: number,
  s5: number,
  s6: number,
  s7: number,
): number {
  let mask = 0;
  if (s0 === value) mask |= 1;
  if (s1 === value) mask |= 2;
  if (s2 === value) mask |= 4;
  if (s3 === value) mask |= 8;
  if (s4 === value) mask |= 16;
  if (s5 === value) mask |= 32;
  if (s6 === value) mask |= 64;
  if (s7 === value) mask |= 128;
  return (mask & (mask - 1)) === 0 ? 31 - Math.clz32(mask) : -1;
}
