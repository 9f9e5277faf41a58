import type { Session } from '../store/session.ts';
import { keyWords } from './keys.ts';
import { actions, type Action } from './registry.ts';

/** Actions that can be done now, as if the list of actions itself were not in front of the page. */
export function doableActions(state: Session): readonly Action[] {
  const behind: Session = state.desk === 'palette' ? { ...state, desk: null } : state;
  return actions.filter((action) => action.name !== 'palette' && action.enabled(behind));
}

/**
 * The actions of a list that answer to a text, best first: those whose key it is, then those whose words
 * begin with it, then those with a word that begins so, then those that hold it anywhere. Every word
 * of the text must be found; the order of the list decides between equals.
 */
export function findActions(among: readonly Action[], text: string): readonly Action[] {
  const wanted = text.trim().toLowerCase().split(/\s+/).filter(Boolean);
  if (wanted.length === 0) return among;
  const ranked = among.flatMap((action) => {
    const rank = rankOf(action, wanted);
    return rank === null ? [] : [{ action, rank }];
  });
  return ranked.toSorted((a, b) => a.rank - b.rank).map(({ action }) => action);
}

function rankOf({ label, keys }: Action, wanted: readonly string[]): number | null {
  const words = label.toLowerCase();
  const whole = wanted.join(' ');
  const written = keys.map((key) => keyWords(key, false).toLowerCase());
  if (written.includes(whole)) return 0;
  if (words.startsWith(whole)) return 1;
  const starts = words.split(/[\s,]+/);
  if (wanted.every((part) => starts.some((word) => word.startsWith(part)))) return 2;
  return wanted.every((part) => words.includes(part)) ? 3 : null;
}
