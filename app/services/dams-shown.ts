import type { DamShapes } from '../../layers/plan/dam-layers.ts';
import type { Session } from '../store/session.ts';
import { shownDams } from '../store/shown-dams.ts';
import { dammedLabel, gapLabel } from '../words/dam-words.ts';

/** Whether other dams are to be drawn: most answers that come are none of theirs. */
export function isDamsChanged(was: Session, now: Session): boolean {
  const before = damParts(was);
  const after = damParts(now);
  return before.length !== after.length || before.some((part, i) => part !== after[i]);
}

/** What the dams on the map are drawn from. */
function damParts(state: Session): readonly unknown[] {
  const { settings, site } = state;
  const shown = shownDams(state).flatMap(({ damming, lettingGaps }) => [damming, lettingGaps]);
  return [settings.units, site.ground, ...shown];
}

/** What berms, heaps and fills dam and turn aside, and the gaps that would let it through. */
export function damShapes(state: Session): DamShapes {
  const { settings, site } = state;
  const error = site.ground?.value.survey.verticalErrorMeters ?? null;
  const shown = shownDams(state);
  const dams = shown.map(({ damming }) => damming!.value);
  return {
    ponds: dams.flatMap(({ ponds }) =>
      ponds.map((pond) => ({
        polygons: pond.outline,
        labelAt: pond.deepestAt,
        label: dammedLabel(pond, error, settings.units),
      })),
    ),
    turned: dams.flatMap(({ turned }) =>
      (turned ?? []).filter(({ passesBy }) => passesBy !== 'a-gap').map(({ line }) => line),
    ),
    gaps: shown.flatMap(({ lettingGaps }) =>
      (lettingGaps?.value.gaps ?? []).map((gap) => ({
        at: gap.at,
        label: gapLabel(gap, settings.units),
      })),
    ),
  };
}
