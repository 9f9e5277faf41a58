import { lineLength, linePart } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';

/** Starts are tried this far apart along the edge, and the edge is looked at so closely; metres. */
const START_STEP = 4;
const LOOK_STEP = 2;
/** A corner in the berm is worth so much of what it would turn aside: ours, so that it runs along one side where that is nearly as good. */
const CORNER_SHARE = 0.05;

/**
 * The stretch of an outline, so long, for a berm along the edge: the one across which the least
 * ground drains, and among equals the one with the fewest corners. The whole outline less one step
 * where it is no longer than that. Plane metres; rings closed or not.
 * @param drainsAt square metres that drain through a place; 0 where nothing is known
 * Example: on a square field that falls to the south, a berm as long as one side lies on the north.
 */
export function edgeStretch(
  ring: readonly XY[],
  lengthMeters: number,
  drainsAt: (x: number, y: number) => number,
): XY[] {
  const open = closes(ring) ? ring.slice(0, -1) : [...ring];
  const once = [...open, open[0]!];
  const around = lineLength(once);
  const length = Math.min(lengthMeters, around - START_STEP);
  if (!(length > 0)) return [];
  const twice = [...once, ...once.slice(1)];
  let best: { line: XY[]; cost: number } | null = null;
  for (let start = 0; start < around; start += START_STEP) {
    const line = linePart(twice, start, start + length);
    const cost = costOf(line, drainsAt);
    if (!best || cost < best.cost * (1 - 1e-9)) best = { line, cost };
  }
  return best?.line ?? [];
}

function closes(ring: readonly XY[]): boolean {
  const last = ring.at(-1);
  return last !== undefined && last[0] === ring[0]![0] && last[1] === ring[0]![1];
}

function costOf(line: readonly XY[], drainsAt: (x: number, y: number) => number): number {
  let drains = 1;
  let corners = 0;
  for (let i = 1; i < line.length; i++) {
    const [[ax, ay], [bx, by]] = [line[i - 1]!, line[i]!];
    const count = Math.max(1, Math.round(Math.hypot(bx - ax, by - ay) / LOOK_STEP));
    for (let k = 0; k < count; k++) {
      const share = (k + 0.5) / count;
      drains += drainsAt(ax + share * (bx - ax), ay + share * (by - ay));
    }
    if (i + 1 < line.length) corners += turnShare(line[i - 1]!, line[i]!, line[i + 1]!);
  }
  return drains * (1 + CORNER_SHARE * corners);
}

/** A right angle counts 1. */
function turnShare(a: XY, b: XY, c: XY): number {
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]];
  return Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) / (Math.PI / 2);
}
