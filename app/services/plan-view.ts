import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { PlanView } from '../../layers/plan/split-plan.ts';
import { selectedIds } from '../store/selection.ts';
import type { Session } from '../store/session.ts';
import { areaQuantity, lengthQuantity, spoken, type UnitSystem } from '../words/format.ts';

const parts = [
  'features',
  'draft',
  'trial',
  'selectedId',
  'alsoSelected',
  'editingId',
  'answers',
] as const satisfies readonly (keyof Session)[];

/** Whether the map has to draw the plan anew. */
export function isPlanChanged(was: Session | null, now: Session): boolean {
  return (
    was === null ||
    was.settings.units !== now.settings.units ||
    parts.some((part) => was[part] !== now[part])
  );
}

/** The plan as the map draws it: a change that is tried takes the place of what it would change. */
export function planViewOf(state: Session): PlanView {
  const { features, draft, trial, settings } = state;
  const tried = trial?.features ?? {};
  const ids = new Set([...selectedIds(state), ...Object.keys(tried)]);
  const shown = Object.values({ ...features, ...tried }).filter(
    (feature): feature is PlanFeature => feature !== null,
  );
  return {
    features: shown,
    draft,
    captions: { ...captionsOf(state), ...triedCaptions(state) },
    selectedIds: ids,
    units: settings.units,
  };
}

/** Second lines of the labels: acres of plots, length of berms. */
function captionsOf({ answers, settings }: Session): Record<string, string> {
  const captions: Record<string, string> = {};
  for (const [id, { plotGround, bermLine }] of Object.entries(answers)) {
    if (plotGround) captions[id] = area(plotGround.value.areaSquareMeters, settings.units);
    if (bermLine) captions[id] = length(bermLine.value.lengthMeters, settings.units);
  }
  return captions;
}

function triedCaptions({ trial, settings }: Session): Record<string, string> {
  const captions: Record<string, string> = {};
  for (const [id, { areaSquareMeters, lengthMeters }] of Object.entries(trial?.sizes ?? {})) {
    if (areaSquareMeters !== null) captions[id] = area(areaSquareMeters, settings.units);
    else if (lengthMeters !== null) captions[id] = length(lengthMeters, settings.units);
  }
  return captions;
}

function area(squareMeters: number, units: UnitSystem): string {
  return spoken(areaQuantity(squareMeters, units));
}

function length(meters: number, units: UnitSystem): string {
  return spoken(lengthQuantity(meters, units));
}
