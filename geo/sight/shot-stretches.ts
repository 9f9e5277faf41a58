import type { ShotDirection, ShotReason } from './shot-ring.ts';

/** Neighbouring directions that are alike. */
export interface ShotStretch {
  /** Grid bearings, clockwise; `toDegrees` above `fromDegrees`, up to 360 more. */
  readonly fromDegrees: number;
  readonly toDegrees: number;
  readonly state: ShotDirection['state'];
  readonly reason: ShotReason | null;
  readonly about: string | null;
  /** Nearest of the targets without a sound backstop, metres. */
  readonly blockedFromMeters: number | null;
  /** Farthest that a shot strikes sound earth, metres. */
  readonly backstopMeters: number | null;
}

/** So few directions in a row between barred ones count as barred: no arm is held so true. */
const FEW = 3;

/**
 * A ring of directions as stretches, clockwise, rounded the safe way: one that is allowed goes from its
 * first direction to its last, any other on to the next direction at either side, so that they overlap;
 * fewer than three allowed directions between blocked ones count as blocked with those before them.
 * One stretch of 360 degrees where all are alike. Throws RangeError for an empty ring.
 * Example: of 4 directions east alone blocked: 0 to 180 is blocked, 180 to 360 allowed.
 */
export function shotStretches(ring: readonly ShotDirection[]): ShotStretch[] {
  if (ring.length === 0) throw new RangeError('a ring without directions');
  const step = 360 / ring.length;
  const runs = joined(withoutSlivers(runsOf(ring)));
  const single = runs.length === 1;
  return runs.map(({ ways }) => {
    const first = ways[0]!;
    const wide = first.state !== 'allowed' && !single ? step : 0;
    const fromDegrees = (first.bearingDegrees - wide + 360) % 360;
    const span = single ? 360 : (ways.length - 1) * step + 2 * wide;
    return {
      fromDegrees,
      toDegrees: fromDegrees + Math.min(360, span),
      state: first.state,
      reason: first.reason,
      about: first.about,
      blockedFromMeters: least(ways.map((way) => way.blockedFromMeters)),
      backstopMeters: most(ways.map((way) => way.backstopMeters)),
    };
  });
}

interface Run {
  readonly ways: readonly ShotDirection[];
}

function isAlike(a: ShotDirection, b: ShotDirection): boolean {
  return a.state === b.state && a.reason === b.reason && a.about === b.about;
}

/** Beginning where one begins, so that none is cut at north. */
function runsOf(ring: readonly ShotDirection[]): Run[] {
  const start = ring.findIndex((way, i) => !isAlike(way, ring.at(i - 1)!));
  const turned = start <= 0 ? ring : [...ring.slice(start), ...ring.slice(0, start)];
  return joined(turned.map((way) => ({ ways: [way] })));
}

function withoutSlivers(runs: readonly Run[]): Run[] {
  return runs.map(({ ways }, i) => {
    const [before, after] = [runs.at(i - 1)!.ways.at(-1)!, runs[(i + 1) % runs.length]!.ways[0]!];
    const isSliver = ways[0]!.state === 'allowed' && ways.length < FEW && runs.length > 2;
    if (!isSliver || before.state !== 'blocked' || after.state !== 'blocked') return { ways };
    const { state, reason, about } = before;
    return { ways: ways.map((way) => ({ ...way, state, reason, about })) };
  });
}

function joined(runs: readonly Run[]): Run[] {
  const out: { ways: ShotDirection[] }[] = [];
  for (const { ways } of runs) {
    const last = out.at(-1);
    if (last && isAlike(last.ways[0]!, ways[0]!)) last.ways.push(...ways);
    else out.push({ ways: [...ways] });
  }
  const first = out[0]!;
  if (out.length > 1 && isAlike(first.ways[0]!, out.at(-1)!.ways[0]!)) {
    first.ways.unshift(...out.pop()!.ways);
  }
  return out;
}

function least(values: readonly (number | null)[]): number | null {
  const some = values.filter((value) => value !== null);
  return some.length > 0 ? Math.min(...some) : null;
}

function most(values: readonly (number | null)[]): number | null {
  const some = values.filter((value) => value !== null);
  return some.length > 0 ? Math.max(...some) : null;
}
