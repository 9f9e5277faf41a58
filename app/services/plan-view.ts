import type { FeatureAnswers } from '../../geo/answers/answers.ts';
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
    captions: trial ? { ...captionsOf(state), ...triedCaptions(state) } : captionsOf(state),
    selectedIds: ids,
    units: settings.units,
  };
}

/** By the answers they were written from: one plot being dragged leaves the others as they are. */
const written = new WeakMap<Partial<FeatureAnswers>, { units: UnitSystem; caption: string }>();

/** As they were last, for all answers together: most drafts come before their answers. */
let last: { answers: object; units: UnitSystem; captions: Record<string, string> } | null = null;

/** Second lines of the labels: acres of plots, length of berms. */
function captionsOf({ answers, settings: { units } }: Session): Record<string, string> {
  if (last?.answers === answers && last.units === units) return last.captions;
  const captions: Record<string, string> = {};
  for (const id of Object.keys(answers)) {
    const of = answers[id]!;
    const kept = written.get(of);
    const caption = kept?.units === units ? kept.caption : captionOf(of, units);
    if (kept?.units !== units) written.set(of, { units, caption });
    if (caption !== '') captions[id] = caption;
  }
  last = { answers, units, captions };
  return captions;
}

function captionOf({ plotGround, bermLine }: Partial<FeatureAnswers>, units: UnitSystem): string {
  if (bermLine) return length(bermLine.value.lengthMeters, units);
  return plotGround ? area(plotGround.value.areaSquareMeters, units) : '';
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
