import { zoneFrame } from '../../frame/zone-frame.ts';
import type { PlanFeature, PlanGeometry } from '../../plan/feature.ts';
import { kinds, type GeometryType, type Kind } from '../../plan/kinds.ts';
import { findOutlineFault } from '../../plan/outline-faults.ts';
import type { Problem } from '../../result.ts';
import type { Work } from '../../work.ts';
import type { CleanChoices } from './clean-choices.ts';
import { cleanTrack, type CleanedTrack } from './clean-track.ts';
import { toPlanFeatures } from './plan-from-vectors.ts';
import type { VectorFeature } from './vector-types.ts';

/** How a walked track is cleaned; whether it is closed follows from the kind that it becomes. */
export type WalkChoices = Omit<CleanChoices, 'close'>;

/** One feature of a drawing that the user takes. */
export interface BringPick {
  readonly index: number;
  readonly kind: Kind;
  /** In place of the drawing's own name; null keeps that. */
  readonly name: string | null;
  /** Null leaves a track as it was walked. */
  readonly clean: WalkChoices | null;
}

export interface BroughtIn {
  readonly features: readonly PlanFeature[];
  /** What could not become the chosen kind, and why. */
  readonly leftOut: readonly { readonly name: string; readonly problem: Problem }[];
  /** Features whose outline crosses itself or encloses nothing; they came in all the same. */
  readonly faultyIds: readonly string[];
}

/** Rings of more corners are not looked over for crossings here. */
const MOST_CORNERS = 5000;

/**
 * The chosen features of a drawing as features of the plan: tracks cleaned, and closed where their
 * kind is an area; kinds, names and properties as `toPlanFeatures` makes them.
 * Throws RangeError for a pick that the drawing does not have.
 */
export function* bringIn(
  drawing: readonly VectorFeature[],
  picks: readonly BringPick[],
  newId: () => string,
): Work<BroughtIn> {
  const features: PlanFeature[] = [];
  const leftOut: { name: string; problem: Problem }[] = [];
  const faultyIds: string[] = [];
  for (let i = 0; i < picks.length; i++) {
    const { index, kind, name, clean } = picks[i];
    const feature = drawing[index];
    if (!feature) throw new RangeError(`pick ${index} of a drawing of ${drawing.length}`);
    const geometry: PlanGeometry = clean
      ? ((yield* cleanFeature(feature, kind, clean))?.geometry ?? feature.geometry)
      : feature.geometry;
    const chosen = { ...feature, name: name ?? feature.name, geometry };
    const made = toPlanFeatures([chosen], () => kind, newId);
    for (const one of made.features) {
      features.push(one);
      if (isFaulty(one)) faultyIds.push(one.id);
    }
    leftOut.push(...made.leftOut.map(({ problem }) => ({ name: chosen.name, problem })));
    yield { share: (i + 1) / picks.length, doing: 'Bringing in' };
  }
  return { features, leftOut, faultyIds };
}

/** A line of a drawing cleaned as it comes in when it becomes `kind`; null for what is no line. */
export function* cleanFeature(
  { geometry, pointData }: VectorFeature,
  kind: Kind,
  choices: WalkChoices,
): Work<CleanedTrack | null> {
  if (geometry.type !== 'LineString') return null;
  const line = geometry.coordinates;
  const frame = zoneFrame(line[0][0], line[0][1]);
  const allowed: readonly GeometryType[] = kinds[kind].geometry;
  const close = !allowed.includes('LineString');
  return yield* cleanTrack(line, pointData, frame, { ...choices, close });
}

function isFaulty({ geometry }: PlanFeature): boolean {
  if (geometry.type !== 'Polygon') return false;
  const corners = geometry.coordinates.reduce((sum, ring) => sum + ring.length, 0);
  return corners <= MOST_CORNERS && findOutlineFault(geometry.coordinates) !== null;
}
