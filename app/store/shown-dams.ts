import type { FeatureAnswers } from '../../geo/answers/answers.ts';
import { selectedIds } from './selection.ts';
import type { Session } from './session.ts';

/** Answers of what is shown with the water it dams: what is selected; while Water is open, all. */
export function shownDams(state: Session): Partial<FeatureAnswers>[] {
  const { openSection, answers } = state;
  const ids = openSection === 'water' ? Object.keys(answers).sort() : selectedIds(state);
  return ids.flatMap((id) => (answers[id]?.damming ? [answers[id]] : []));
}
