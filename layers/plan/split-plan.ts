import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { Drawn } from './plan-source.ts';

export interface PlanView {
  readonly features: readonly PlanFeature[];
  readonly selectedId: string | null;
  /** The feature in hand as it is now; takes the place of the committed one of the same id. */
  readonly draft: PlanFeature | null;
  /** Second lines of labels, by feature id. */
  readonly captions: Readonly<Record<string, string>>;
  readonly units: 'us' | 'metric';
}

/** The selected feature or the draft lies in its own small source, so a drag redraws only that. */
export function splitPlan({ features, selectedId, draft, captions, units }: PlanView): {
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
    if (feature.id === selectedId) editing.push(draw(feature, true));
    else committed.push(draw(feature, false));
  }
  if (draft) editing.push(draw(draft, true));
  return { committed, editing };
}
