import type { PlanDocument } from '../document/plan-document.ts';

/** The plan on this screen, for whatever changes it. Readers use the session instead. */
let current: PlanDocument | null = null;

export function setOpenPlan(document: PlanDocument | null): void {
  current = document;
}

/** Throws while no plan is open: nothing that changes a plan may be on the screen then. */
export function openPlan(): PlanDocument {
  if (!current) throw new RangeError('no plan is open');
  return current;
}
