import type { ShotDirection, ShotReason } from './shot-ring.ts';

/** Neighbouring directions that are alike. Each begins where the one before it ends. */
export interface ShotStretch {
  /** Clockwise from 0 up to 360; `toDegrees` not below `fromDegrees`, up to 360 more. */
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
 * A ring of directions as stretches, clockwise, that adjoin without a gap or an overlap. Bounds are
 * drawn the safe way: one that is allowed goes from its first direction to its last; a blocked one
 * beside nothing to aim at takes in the next direction; between two that are both barred the bound
 * lies midway. Fewer than three allowed directions with a blocked one beside them count as blocked.
 * `turnDegrees` is added to the grid bearings of the ring to make true ones; bounds are whole degrees,
 * that of an allowed stretch rounded into it (one of a single direction has no width). One stretch of
 * 360 degrees where all are alike. Throws RangeError for an empty ring.
 * Example: of 4 directions east alone blocked: 0 to 180 is blocked, 180 to 360 allowed.
 */
export function shotStretches(ring: readonly ShotDirection[], turnDegrees = 0): ShotStretch[] {
  if (ring.length === 0) throw new RangeError('a ring without directions');
  const step = 360 / ring.length;
  const runs = joined(withoutSlivers(runsOf(ring)));
  const begins = runs.map((run, i) => beginOf(runs.at(i - 1)!, run, step, turnDegrees));
  return runs.map(({ ways }, i) => {
    const first = ways[0]!;
    const end = begins[(i + 1) % runs.length]!;
    const fromDegrees = upTo360(begins[i]!);
    return {
      fromDegrees,
      toDegrees: fromDegrees + (runs.length === 1 ? 360 : upTo360(end - begins[i]!)),
      state: first.state,
      reason: first.reason,
      about: first.about,
      blockedFromMeters: least(ways.map((way) => way.blockedFromMeters)),
      backstopMeters: most(ways.map((way) => way.backstopMeters)),
    };
  });
}

/** Which of two neighbours the ground between their directions goes to. */
const pull = { allowed: 0, 'no-target': 1, blocked: 2 } as const;

/** More than what a sum of bearings may be off by. */
const HAIR = 1e-9;

/** The bound between two runs, in whole degrees. */
function beginOf(before: Run, run: Run, step: number, turnDegrees: number): number {
  const [a, b] = [before.ways[0]!.state, run.ways[0]!.state];
  const first = run.ways[0]!.bearingDegrees + turnDegrees;
  if (pull[a] === pull[b]) return Math.round(first - step / 2);
  const allowed = a === 'allowed' ? before : b === 'allowed' ? run : null;
  const bound = pull[a] < pull[b] ? first - step : first;
  if (!allowed) return Math.round(bound);
  const width = (allowed.ways.length - 1) * step;
  // Rounded into so narrow a stretch its bounds would cross.
  if (width < 1) return Math.round(allowed.ways[0]!.bearingDegrees + turnDegrees + width / 2);
  return a === 'allowed' ? Math.floor(bound + HAIR) : Math.ceil(bound - HAIR);
}

function upTo360(degrees: number): number {
  return ((degrees % 360) + 360) % 360;
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
    const isSliver = ways[0]!.state === 'allowed' && ways.length < FEW && runs.length > 1;
    const bar = [before, after].find((way) => way.state === 'blocked');
    if (!isSliver || !bar) return { ways };
    const { state, reason, about } = bar;
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
