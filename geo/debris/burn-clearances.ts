import { shapeDistance, type Between, type PlaneShape } from '../plan/shape-distance.ts';
import { ok, problem, type Result } from '../result.ts';
import { badNumber } from './check-numbers.ts';

/**
 * How far what is to burn lies from what must not. Distances beside figures that are usual or
 * printed somewhere, and nothing more: local rules, the permit and the authority decide, and no
 * figure here means that burning is allowed or safe.
 */

export type ClearanceFrom =
  | 'neighbour-dwelling'
  | 'own-building'
  | 'power-line'
  | 'standing-trees'
  | 'road'
  | 'property-line';

export interface ClearanceRule {
  readonly from: ClearanceFrom;
  readonly meters: number;
  /** `usual`: common practice, to be edited; `published`: printed in handbook §12. */
  readonly source: 'usual' | 'published';
}

/**
 * 500 ft to a neighbour's dwelling, 100 ft to one's own buildings and lines and to standing trees,
 * 250 ft to a road (the issue's, common practice); 25 m from a windrow to standing fuel (a county
 * fire service), 50 ft to structures (a state forest service's style, from memory).
 */
export const usualClearances: readonly ClearanceRule[] = [
  { from: 'neighbour-dwelling', meters: 152.4, source: 'usual' },
  { from: 'own-building', meters: 30.48, source: 'usual' },
  { from: 'own-building', meters: 15.24, source: 'published' },
  { from: 'power-line', meters: 30.48, source: 'usual' },
  { from: 'standing-trees', meters: 30.48, source: 'usual' },
  { from: 'standing-trees', meters: 25, source: 'published' },
  { from: 'road', meters: 76.2, source: 'usual' },
];

export interface Drawn {
  readonly id: string;
  readonly shape: PlaneShape;
}

export interface ClearanceTarget extends Drawn {
  readonly from: ClearanceFrom;
}

export interface Clearance {
  /** The heap or berm. */
  readonly id: string;
  readonly from: ClearanceFrom;
  readonly targetId: string;
  /** From foot to foot, on the ground, with where that is in the frame. */
  readonly between: Between;
  /** Each rule about it, with how far short it falls, 0 where it does not. */
  readonly rules: readonly (ClearanceRule & { readonly shortMeters: number })[];
}

export interface BurnClearances {
  /** For each of what burns the nearest of each kind that is drawn. */
  readonly clearances: readonly Clearance[];
  /** Kinds that a rule speaks of and nobody has drawn: unknown, not clear. */
  readonly notDrawn: readonly ClearanceFrom[];
}

/**
 * Distances from each burning heap or berm to the nearest of each kind of thing near it, against
 * each rule. Standing trees are the areas or edges that stay.
 * @param groundMetersPerFrameMeter shapes are in frame metres
 * Problems: `shape-empty` for one without corners or off the earth, and rules out of bounds.
 * Example: a windrow face 109 ft from the trees falls short of neither 100 ft nor 25 m.
 */
export function burnClearances(
  fires: readonly Drawn[],
  targets: readonly ClearanceTarget[],
  rules: readonly ClearanceRule[] = usualClearances,
  groundMetersPerFrameMeter = 1,
): Result<BurnClearances> {
  for (const { from, meters } of rules) {
    const bad = badNumber({ [`clearance (${from})`]: meters }, 0, 10_000);
    if (bad) return bad;
  }
  for (const { id, shape } of [...fires, ...targets]) {
    const corners = shape.paths.flat();
    if (corners.length > 0 && corners.every(([x, y]) => Number.isFinite(x + y))) continue;
    return problem('shape-empty', 'Something near the burn has no place.', 'Draw it anew.', id);
  }
  const clearances = fires.flatMap((fire) =>
    kinds.flatMap((from): Clearance[] => {
      let nearest: { targetId: string; between: Between } | null = null;
      for (const target of targets) {
        if (target.from !== from) continue;
        const between = shapeDistance(fire.shape, target.shape);
        if (nearest && between.meters >= nearest.between.meters) continue;
        nearest = { targetId: target.id, between };
      }
      if (!nearest) return [];
      const meters = nearest.between.meters * groundMetersPerFrameMeter;
      const between = { ...nearest.between, meters };
      const against = rules
        .filter((rule) => rule.from === from)
        .map((rule) => ({ ...rule, shortMeters: Math.max(0, rule.meters - meters) }));
      return [{ id: fire.id, from, targetId: nearest.targetId, between, rules: against }];
    }),
  );
  const drawn = new Set(targets.map(({ from }) => from));
  const spokenOf = new Set(rules.map(({ from }) => from));
  return ok({
    clearances,
    notDrawn: kinds.filter((from) => spokenOf.has(from) && !drawn.has(from)),
  });
}

const kinds: readonly ClearanceFrom[] = [
  'neighbour-dwelling',
  'own-building',
  'power-line',
  'standing-trees',
  'road',
  'property-line',
];
