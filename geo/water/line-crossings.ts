import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { GridPlace } from '../raster/grid.ts';

type XY = readonly [number, number];

/** Where water runs across a line. */
export interface LineCrossing {
  /** Along the line from its start, frame metres. */
  readonly stationMeters: number;
  /** Ground that drains through there. */
  readonly catchmentSquareMeters: number;
}

/** Water that runs along the line drains as much a little farther on; a crossing drains less. */
const DROP = 1.5;

/**
 * Where flow lines cross a line: stations through which so much ground drains, and clearly more than
 * a little farther along on either side. Of two nearer than `apartMeters` the larger stands.
 * @param areaSquareMeters by cell, of the ground without what stands on the line (`flowCatchments`)
 * @param line in frame metres; off the grid nothing crosses
 * In the order of the line. Throws RangeError for a line of no length.
 * Example: a line square across a straight draw is crossed once, where the draw is.
 */
export function lineCrossings(
  place: GridPlace,
  areaSquareMeters: Float64Array,
  line: readonly XY[],
  limits: { readonly minSquareMeters: number; readonly apartMeters: number },
): LineCrossing[] {
  const length = lineLength(line);
  const step = Math.min(place.cellWidth, place.cellHeight) / 2;
  const count = Math.max(1, Math.ceil(length / step));
  const drains = Float64Array.from({ length: count + 1 }, (_, i) =>
    drainsAt(place, areaSquareMeters, placeAt(line, (length * i) / count).at),
  );
  const apart = Math.max(1, Math.round((limits.apartMeters * count) / length));
  const byCatchment = [...drains.keys()]
    .filter((i) => drains[i]! >= limits.minSquareMeters && dropsBothWays(drains, i, apart))
    .sort((a, b) => drains[b]! - drains[a]! || a - b);
  const taken: number[] = [];
  for (const i of byCatchment) {
    if (taken.every((other) => Math.abs(other - i) >= apart)) taken.push(i);
  }
  return taken
    .sort((a, b) => a - b)
    .map((i) => ({
      stationMeters: (length * i) / count,
      catchmentSquareMeters: drains[i]!,
    }));
}

/** Beyond the ends of the line nothing is known, and nothing speaks against a crossing there. */
function dropsBothWays(drains: Float64Array, at: number, apart: number): boolean {
  return [-1, 1].every((side) => {
    let least = Infinity;
    for (let k = apart; k <= 2 * apart; k++) {
      const there = drains[at + side * k];
      if (there === undefined) return true;
      least = Math.min(least, there);
    }
    return least * DROP <= drains[at]!;
  });
}

/** The most that drains through a cell or one beside it: a line may pass between two. */
function drainsAt(place: GridPlace, area: Float64Array, [x, y]: XY): number {
  const column = Math.floor((x - place.west) / place.cellWidth);
  const row = Math.floor((place.north - y) / place.cellHeight);
  let most = 0;
  for (let r = Math.max(0, row - 1); r <= Math.min(place.height - 1, row + 1); r++) {
    for (let c = Math.max(0, column - 1); c <= Math.min(place.width - 1, column + 1); c++) {
      const there = area[r * place.width + c]!;
      if (there > most) most = there;
    }
  }
  return most;
}
