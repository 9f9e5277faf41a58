import { ok, problem, type Result } from '../result.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { roundEndsVolume, sectionArea, type WindrowSection } from './windrow-sections.ts';

export interface BendLoss {
  readonly bends: number;
  /** Sharpest turn, degrees off straight on. */
  readonly sharpestDegrees: number;
  /** What a berm with round bends holds less than section times length, m³. */
  readonly lossCubicMeters: number;
  /** True where pieces are too short for their bends: then the loss is at most that much. */
  readonly isBound: boolean;
}

/**
 * What bends take from a berm (line in metres). Inside a bend by θ both pieces overlap by
 * 2 tan(θ/2) M and outside a wedge of θ M is added, M being what the section's one half has about
 * its middle; cut on the bisector both are alike and nothing is lost. Pieces shorter than the
 * overlap reaches lose at most half their own volume at each end.
 * Problems: `line-too-short` for one without length, `line-crosses-itself`.
 * Example: a right angle in the parabola 24 × 9 ft takes 139 ft³, 0.97 ft of its length.
 */
export function bendLoss(line: readonly XY[], section: WindrowSection): Result<BendLoss> {
  const points = line.filter((p, i) => i === 0 || p[0] !== line[i - 1]![0] || p[1] !== line[i - 1]![1]); // prettier-ignore
  if (points.length < 2 || points.some((p) => !Number.isFinite(p[0] + p[1]))) {
    return problem(
      'line-too-short',
      'The berm’s line has no length.',
      'Draw it from one end to the other.',
    );
  }
  if (crossesItself(points)) {
    return problem(
      'line-crosses-itself',
      'The berm’s line crosses itself.',
      'Move a corner so that it does not, or draw two berms.',
    );
  }
  const moment = roundEndsVolume(section) / (2 * Math.PI);
  const half = section.baseWidthMeters / 2;
  let [loss, bends, sharpest, isBound] = [0, 0, 0, false];
  for (let i = 1; i + 1 < points.length; i++) {
    const turn = turnAt(points[i - 1]!, points[i]!, points[i + 1]!);
    if (turn < 1e-9) continue;
    bends++;
    sharpest = Math.max(sharpest, turn);
    const reach = Math.tan(turn / 2);
    for (const [from, to] of [
      [i - 1, i],
      [i, i + 1],
    ] as const) {
      const leg = lengthOf(points[from]!, points[to]!);
      if (half * reach > leg) isBound = true;
      loss += Math.min(reach * moment, (sectionArea(section) * leg) / 2);
    }
    loss -= turn * moment;
  }
  const sharpestDegrees = (sharpest * 180) / Math.PI;
  return ok({ bends, sharpestDegrees, lossCubicMeters: Math.max(0, loss), isBound });
}

function lengthOf(a: XY, b: XY): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

function turnAt(a: XY, b: XY, c: XY): number {
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]];
  return Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
}

function crossesItself(points: readonly XY[]): boolean {
  for (let i = 1; i < points.length; i++) {
    for (let j = i + 2; j < points.length; j++) {
      if (meet(points[i - 1]!, points[i]!, points[j - 1]!, points[j]!)) return true;
    }
  }
  return false;
}

function meet(a: XY, b: XY, c: XY, d: XY): boolean {
  const side = (p: XY, q: XY, r: XY) =>
    Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
  const [s1, s2, s3, s4] = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)];
  if (s1 !== s2 && s3 !== s4) return true;
  const within = (p: XY, q: XY, r: XY) =>
    Math.min(p[0], q[0]) <= r[0] && r[0] <= Math.max(p[0], q[0]) &&
    Math.min(p[1], q[1]) <= r[1] && r[1] <= Math.max(p[1], q[1]); // prettier-ignore
  return (
    (s1 === 0 && within(a, b, c)) ||
    (s2 === 0 && within(a, b, d)) ||
    (s3 === 0 && within(c, d, a)) ||
    (s4 === 0 && within(c, d, b))
  );
}
