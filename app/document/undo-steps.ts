import { sameValue } from './same-value.ts';

/** One key of one map of the document going from one value to another; undefined is absent. */
export interface KeyChange<M extends string = string> {
  readonly map: M;
  readonly key: string;
  readonly before: unknown;
  readonly after: unknown;
}

type Step<M extends string> = readonly KeyChange<M>[];

/**
 * Undo and redo over keyed values. A key that another tab has changed leaves all steps made before
 * that, so undo can never take back another tab's later edit, a deletion included. (The undo
 * manager that comes with Yjs keeps the other tab's new value but brings back what it deleted; a
 * test shows it.) Never trimmed: a step holds references, not copies.
 */
export class UndoSteps<M extends string> {
  #done: Step<M>[] = [];
  #undone: Step<M>[] = [];

  get canUndo(): boolean {
    return this.#done.length > 0;
  }

  get canRedo(): boolean {
    return this.#undone.length > 0;
  }

  /** A new gesture: one step, and nothing left to redo. */
  record(step: Step<M>): void {
    this.#done.push(step);
    this.#undone = [];
  }

  /** The writes that take back the newest step; null when there is none. */
  undo(): Step<M> | null {
    return turn(this.#done, this.#undone);
  }

  redo(): Step<M> | null {
    return turn(this.#undone, this.#done);
  }

  /** Another tab has touched this key, which now holds `current`. */
  touchedElsewhere(map: M, key: string, current: unknown): void {
    const touches = (change: KeyChange<M>) => change.map === map && change.key === key;
    const newest = this.#done.findLast((step) => step.some(touches));
    const last = (newest ?? this.#undone.findLast((step) => step.some(touches)))?.find(touches);
    // Equal to what was left there: the other tab's edit has lost against a newer one of ours.
    if (last === undefined || sameValue(last.after, current)) return;
    const without = (steps: Step<M>[]) =>
      steps
        .map((step) => (step.some(touches) ? step.filter((change) => !touches(change)) : step))
        .filter((step) => step.length > 0);
    this.#done = without(this.#done);
    this.#undone = without(this.#undone);
  }
}

function turn<M extends string>(from: Step<M>[], to: Step<M>[]): Step<M> | null {
  const step = from.pop();
  if (step === undefined) return null;
  const turned = step.map(({ map, key, before, after }) => ({
    map,
    key,
    before: after,
    after: before,
  }));
  to.push(turned);
  return turned;
}
