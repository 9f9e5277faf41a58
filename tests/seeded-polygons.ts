import type { XY } from '../geo/plan/overlay/arrangement.ts';

/** Outlines from a seed: stars whose corners stand at rising bearings, so that they are sound. */

export interface Star {
  readonly centre: XY;
  readonly corners: number;
  readonly nearest: number;
  readonly farthest: number;
}

/** Corners on a lattice of 2^-20 m, so that moving them by whole metres changes no digit. */
export function starRing(random: () => number, { centre, corners, nearest, farthest }: Star): XY[] {
  const turns = Array.from({ length: corners }, () => random()).sort((a, b) => a - b);
  return turns.map((turn, i): XY => {
    // Spread out, so that no gap reaches half a circle and no two corners stand in one line.
    const angle = ((i + 0.1 + 0.8 * turn) / corners) * 2 * Math.PI;
    const reach = nearest + random() * (farthest - nearest);
    return [
      onLattice(centre[0] + reach * Math.cos(angle)),
      onLattice(centre[1] + reach * Math.sin(angle)),
    ];
  });
}

/** A star of 4 to `mostCorners` corners, every third one with a star-shaped hole. */
export function starPolygon(random: () => number, centre: XY, size: number, mostCorners = 60) {
  const corners = 4 + Math.floor(random() * (mostCorners - 3));
  const outer = starRing(random, { centre, corners, nearest: 0.4 * size, farthest: size });
  if (random() > 1 / 3) return [outer];
  // Inside the circle that the outline's chords cannot cut: 0.4 size less their sagitta.
  const room = 0.4 * size * Math.cos((1.8 * Math.PI) / corners);
  if (room < 0.05 * size) return [outer];
  const hole = { centre, corners: 4 + Math.floor(random() * 8), nearest: 0.3 * room };
  return [outer, starRing(random, { ...hole, farthest: 0.95 * room })];
}

function onLattice(meters: number): number {
  return Math.round(meters * 2 ** 20) / 2 ** 20;
}
