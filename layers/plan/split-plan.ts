import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { Drawn } from './plan-source.ts';

export interface PlanView {
  readonly features: readonly PlanFeature[];
  /** Drawn in the flag colour. */
  readonly selectedIds: ReadonlySet<string>;
  /** The feature in hand as it is now; takes the place of the committed one of the same id. */
  readonly draft: PlanFeature | null;
  /** Second lines of labels, by feature id. */
  readonly captions: Readonly<Record<string, string>>;
  readonly units: 'us' | 'metric';
}

/** Selected features and the draft lie in their own small source, so a drag redraws only that. */
export function splitPlan({ features, selectedIds, draft, captions, units }: PlanView): {
  committed: Drawn[];
  editing: Drawn[];
} {
  const committed: Drawn[] = [];
  const editing: Drawn[] = [];
  const draw = (feature: PlanFeature, selected: boolean): Drawn => ({
    feature,
    selected,
    units,
    caption: captions[feature.id] ?? '',
  });
  for (const feature of features) {
    if (feature.id === draft?.id) continue;
    if (selectedIds.has(feature.id)) editing.push(draw(feature, true));
    else committed.push(draw(feature, false));
  }
  if (draft) editing.push(draw(draft, true));
  return { committed, editing };
}
