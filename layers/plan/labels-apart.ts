import { distanceToPiece, lineLength, placeAt } from '../../geo/plan/line-geometry.ts';
import type { Point } from './local-plane.ts';

/** Places tried along a line, evenly, both ends left out: there lines meet. */
const TRIED = 40;
const ENDS = 0.12;

/** Of places about as far from the other lines, in shares of the line's length, others decide. */
const ABOUT = 0.02;

/**
 * For each of several lines in a plane of metres the place along it where it is farthest from all the
 * others, for a label that is to be told from theirs. Where a line is as far from them in several places,
 * or runs along another all the way, the one farthest from the labels before it, then the one nearest to
 * its middle. The first lines come first. A line alone has its label in its middle; one without length
 * where it is; one without points throws RangeError.
 */
export function placesApart(lines: readonly (readonly Point[])[]): Point[] {
  const chosen: Point[] = [];
  lines.forEach((line, i) => chosen.push(placeOf(line, lines.toSpliced(i, 1), chosen)));
  return chosen;
}

interface Tried {
  readonly at: Point;
  /** From the other lines; no farther than the line is long. */
  readonly apart: number;
  readonly fromLabels: number;
  readonly fromMiddle: number;
}

function placeOf(
  line: readonly Point[],
  others: readonly (readonly Point[])[],
  labels: readonly Point[],
): Point {
  const length = lineLength(line);
  const first = line[0];
  if (!first) throw new RangeError('A line without points has no place for a label.');
  if (length === 0) return first;
  const tried = Array.from({ length: TRIED + 1 }, (_, k): Tried => {
    const share = ENDS + ((1 - 2 * ENDS) * k) / TRIED;
    const { at } = placeAt(line, share * length);
    const far = Math.min(length, ...others.map((other) => distanceToLine(at, other)));
    const near = labels.map(([x, y]) => Math.hypot(at[0] - x, at[1] - y));
    return { at, apart: far, fromLabels: Math.min(length, ...near), fromMiddle: Math.abs(share - 0.5) }; // prettier-ignore
  });
  const farthest = best(tried, ({ apart }) => apart, ABOUT * length);
  const clear = best(farthest, ({ fromLabels }) => fromLabels, ABOUT * length);
  return best(clear, ({ fromMiddle }) => -fromMiddle, 0)[0]!.at;
}

function best(tried: readonly Tried[], of: (one: Tried) => number, about: number): Tried[] {
  const most = Math.max(...tried.map(of));
  return tried.filter((one) => of(one) >= most - about);
}

function distanceToLine(place: Point, line: readonly Point[]): number {
  let least = Infinity;
  for (let i = 0; i < line.length; i++) {
    least = Math.min(least, distanceToPiece(place, line[Math.max(0, i - 1)]!, line[i]!));
  }
  return least;
}
