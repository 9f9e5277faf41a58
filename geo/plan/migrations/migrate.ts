import type { RawPlan } from '../raw-plan.ts';
import { fromVersion0 } from './from-version-0.ts';

/** Step `n` makes a plan of version n + 1 out of one of version n. */
const steps: readonly ((plan: RawPlan) => RawPlan)[] = [fromVersion0];

/** The version of plans that this Assart writes. A plan that says none is of version 0. */
export const schemaVersion = steps.length;

/**
 * Brings a plan of an older version up to `schemaVersion`, one version at a time. Each step leaves
 * alone what already has the newer form, so that a plan may safely be migrated twice. Values that
 * fit no version pass through as they are. Never changes `plan` itself.
 * Throws RangeError for a version that is not there, or newer.
 */
export function migratePlan(plan: RawPlan, version: number): RawPlan {
  if (!Number.isInteger(version) || version < 0 || version > schemaVersion) {
    throw new RangeError(`no migration from version ${version}`);
  }
  return steps.slice(version).reduce((older, step) => step(older), plan);
}
