/**
 * The table of marching squares, shared by outlines and contours: how a level runs through the
 * square between four neighbouring cell centres.
 */

/** Corners of a square that lie above the level, summed. */
export const above = { northWest: 8, northEast: 4, southEast: 2, southWest: 1 } as const;

/** A crossing keeps this share of a cell off the centres, so that lines never touch themselves. */
const keepOff = 1 / 1024;

/**
 * Joins the edges of one square that a level crosses, the higher side on the left hand (row 0 at
 * the top). `sort` is the sum of `above`; at a saddle (5 and 10) `middleIsAbove` says whether the
 * two high corners join or part.
 */
export function joinSquare(
  sort: number,
  middleIsAbove: boolean,
  top: number,
  right: number,
  bottom: number,
  left: number,
  join: (from: number, to: number) => void,
): void {
  switch (sort) {
    case 0:
    case 15:
      return;
    case 1:
      return join(bottom, left);
    case 2:
      return join(right, bottom);
    case 3:
      return join(right, left);
    case 4:
      return join(top, right);
    case 6:
      return join(top, bottom);
    case 7:
      return join(top, left);
    case 8:
      return join(left, top);
    case 9:
      return join(bottom, top);
    case 11:
      return join(right, top);
    case 12:
      return join(left, right);
    case 13:
      return join(bottom, right);
    case 14:
      return join(left, bottom);
    case 5:
      join(top, middleIsAbove ? left : right);
      return join(bottom, middleIsAbove ? right : left);
    default:
      join(left, middleIsAbove ? bottom : top);
      return join(right, middleIsAbove ? top : bottom);
  }
}

/** True for the two squares whose high corners lie across from each other. */
export function isSaddle(sort: number): boolean {
  return sort === 5 || sort === 10;
}

/**
 * Where a level lies between two neighbouring values, 0 to 1 of the way and a hair off both ends;
 * half way where either is NaN.
 */
export function crossingShare(a: number, b: number, level: number): number {
  const share = (level - a) / (b - a);
  return Number.isFinite(share) ? Math.min(1 - keepOff, Math.max(keepOff, share)) : 0.5;
}

/**
 * Follows joined edges from `first` and takes them out of `next`, until they end or come round.
 * A closed chain does not repeat its first edge.
 */
export function followEdges(
  next: Map<number, number>,
  first: number,
): { readonly edges: number[]; readonly closed: boolean } {
  const edges = [first];
  for (let edge = first; ;) {
    const to = next.get(edge);
    if (to === undefined) return { edges, closed: false };
    next.delete(edge);
    if (to === first) return { edges, closed: true };
    edges.push(to);
    edge = to;
  }
}
