import type { FeatureAnswers, SiteAnswers } from '../../geo/answers/answers.ts';
import { answerKey } from '../../geo/answers/answer-key.ts';
import type { Session } from './session.ts';

/** Answers by what they are about; `id` is the feature's, without it they are those of every one. */
export interface AnswersNamed {
  readonly site?: readonly (keyof SiteAnswers)[];
  readonly features?: readonly (keyof FeatureAnswers)[];
  readonly id?: string;
}

type Left = Pick<Session, 'left'>;

/** Whether the user has stopped the work; what was worked out before may be out of date. */
export function isStopped({ left }: Left): boolean {
  return left !== null;
}

/**
 * The one place that says whether what is shown of these answers is not of the plan as it is, because
 * the work was stopped: one of them is left undone.
 */
export function isLeftUndone({ left }: Left, { site, features, id }: AnswersNamed): boolean {
  if (left === null || left.size === 0) return false;
  if (site?.some((name) => left.has(answerKey(name, null)))) return true;
  if (!features) return false;
  if (id !== undefined) return features.some((name) => left.has(answerKey(name, id)));
  const names = featureNames(left);
  return features.some((name) => names.has(name));
}

const known = new WeakMap<ReadonlySet<string>, ReadonlySet<string>>();

/** Names of the answers of which some feature's is left. */
function featureNames(left: ReadonlySet<string>): ReadonlySet<string> {
  const kept = known.get(left);
  if (kept) return kept;
  const ends = [...left].map((key) => key.indexOf('/'));
  const names = new Set([...left].flatMap((key, i) => (ends[i]! < 0 ? [] : [key.slice(0, ends[i])]))); // prettier-ignore
  known.set(left, names);
  return names;
}
