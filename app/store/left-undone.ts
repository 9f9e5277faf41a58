import type { FeatureAnswers, SiteAnswers } from '../../geo/answers/answers.ts';
import { answerKey, splitKey } from '../../geo/answers/answer-key.ts';
import type { Session } from './session.ts';

/** What is worked out on the way to an answer, is shown nowhere and takes its time. */
type Step = 'siteBands' | 'siteAir';

/**
 * Answers by what they are about; `id` is the feature's, without it they are those of every one. `all`
 * stands for every answer of features.
 */
export interface AnswersNamed {
  readonly site?: readonly (keyof SiteAnswers | Step)[];
  readonly features?: readonly (keyof FeatureAnswers)[] | 'all';
  readonly id?: string;
}

type Left = Pick<Session, 'left'>;
type Shown = Pick<Session, 'left' | 'site' | 'answers'>;

/** Whether the user has stopped the work; what was worked out before may be out of date. */
export function isStopped({ left }: Left): boolean {
  return left !== null;
}

/** Whether one of these answers is left undone, be there an older one or none. */
export function isLeftUndone({ left }: Left, named: AnswersNamed): boolean {
  return some(left, named, () => true);
}

/**
 * The one place that says whether what is shown of these answers is not of the plan as it is, because
 * the work was stopped: one of them is left undone, and an older one is there.
 */
export function isOutOfDate({ left, site, answers }: Shown, named: AnswersNamed): boolean {
  return some(left, named, (name, id) =>
    id === null
      ? site[name as keyof SiteAnswers] !== undefined
      : answers[id]?.[name as keyof FeatureAnswers] !== undefined,
  );
}

/** Whether one of these answers is the one that is being worked out now. */
export function isWorkedOn({ working }: Pick<Session, 'working'>, named: AnswersNamed): boolean {
  return working !== null && some(new Set([working.key]), named, () => true);
}

function some(
  keys: ReadonlySet<string> | null,
  { site = [], features = [], id }: AnswersNamed,
  fits: (name: string, id: string | null) => boolean,
): boolean {
  if (keys === null || keys.size === 0) return false;
  if (site.some((name) => keys.has(answerKey(name, null)) && fits(name, null))) return true;
  if (features.length === 0) return false;
  const isNamed = (name: string) => features === 'all' || features.some((one) => one === name);
  for (const key of keys) {
    const [name, of] = splitKey(key);
    if (of === null || (id !== undefined && of !== id)) continue;
    if (isNamed(name) && fits(name, of)) return true;
  }
  return false;
}
