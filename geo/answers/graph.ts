import type { Conditions } from '../plan/conditions.ts';
import type { PlanFeature } from '../plan/feature.ts';
import type { Settings } from '../plan/settings.ts';
import type { Work } from '../work.ts';
import { answerKey } from './answer-key.ts';
import { CurrentInputs } from './current-inputs.ts';
import { kindsOf, type Definition, type Inputs, type Rasters } from './definition.ts';
import { fingerprint, hashText } from './fingerprint.ts';

/**
 * The answers graph: knows what every answer reads, finds what a change has made stale, and hands
 * out the work, what was touched last first. It never runs anything by itself: the worker door and
 * the command line do.
 *
 * Every answer is named by a fingerprint of all that it reads (other answers by theirs), so a
 * result is current exactly when its fingerprint is, and an input that comes back finds its result.
 */

export interface Job {
  readonly name: string;
  /** Null for a site answer. */
  readonly featureId: string | null;
  readonly fingerprint: string;
  /** Starts the computation; nothing is computed before. */
  begin(): Work<unknown>;
}

export interface Settled {
  readonly name: string;
  readonly featureId: string | null;
  readonly shown: boolean;
  /** Null: there is no such answer now (its feature is gone). */
  readonly value: unknown;
}

interface Stale {
  readonly definition: Definition;
  readonly feature: PlanFeature | null;
  readonly print: string;
  readonly rank: number;
}

interface Kept {
  readonly fingerprint: string;
  readonly value: unknown;
}

export class AnswerGraph {
  readonly #definitions: readonly Definition[];
  readonly #byName: ReadonlyMap<string, Definition>;
  readonly #current = new CurrentInputs();
  readonly #results = new Map<string, Kept>();
  readonly #cache = new Map<string, Kept[]>();
  /** Fingerprints of what is read, until an input changes. */
  readonly #reads = new Map<string, string>();
  /** What can be worked out now, the next first; null: to be found anew. */
  #stale: Stale[] | null = null;

  /** Throws RangeError where a definition reads an answer that no earlier definition gives. */
  constructor(definitions: readonly Definition[]) {
    const byName = new Map<string, Definition>();
    for (const definition of definitions) {
      for (const read of definition.reads) {
        const [sort, name] = splitRead(read);
        if (sort === 'answer' && byName.get(name)?.per !== 'site') {
          throw new RangeError(
            `${definition.name} reads ${read}, which no site answer before it gives`,
          );
        }
      }
      byName.set(definition.name, definition);
    }
    this.#definitions = definitions;
    this.#byName = byName;
  }

  setRasters(rasters: Partial<Rasters>): void {
    this.#current.rasters = rasters;
    this.#inputsChanged();
  }

  setSettings(settings: Settings): void {
    this.#current.settings = settings;
    this.#inputsChanged();
  }

  setConditions(conditions: Conditions): void {
    this.#current.conditions = conditions;
    this.#inputsChanged();
  }

  /** Changed features; null removes one. Returns the answers that went with removed features. */
  putFeatures(features: Readonly<Record<string, PlanFeature | null>>): Settled[] {
    this.#inputsChanged();
    return this.#current.putFeatures(features).flatMap((feature) => this.#forget(feature));
  }

  /** Settles every answer anew, from what is kept where that is current: another plan is shown. */
  forgetSettled(): void {
    this.#results.clear();
    this.#inputsChanged();
  }

  /** Replaces the whole plan. */
  setFeatures(features: readonly PlanFeature[]): Settled[] {
    const next: Record<string, PlanFeature | null> = {};
    for (const id of this.#current.features.keys()) next[id] = null;
    for (const feature of features) next[feature.id] = feature;
    return this.putFeatures(next);
  }

  /**
   * Results that are current from the cache are settled at once through `settle`; the first answer
   * that needs work is returned as a job, or null when all are current. What was touched last comes
   * first, then the order of the definitions; answers marked `first` and `last` before and after all.
   * `wanted` passes over jobs that are not to be done now.
   */
  next(settle: (settled: Settled) => void, wanted: (job: Job) => boolean = () => true): Job | null {
    this.#stale ??= this.#findStale(settle);
    for (const { definition, feature, print } of this.#stale) {
      const job: Job = {
        name: definition.name,
        featureId: feature?.id ?? null,
        fingerprint: print,
        begin: () => start(definition, this.#inputs(), feature),
      };
      if (wanted(job)) return job;
    }
    return null;
  }

  /**
   * Keys of all shown answers that are not of the plan as it is: what they read has changed, or waits
   * for something that has, or they were never worked out.
   */
  notCurrent(): string[] {
    return this.#definitions
      .filter(({ shown }) => shown !== false)
      .flatMap((definition) =>
        this.#subjects(definition)
          .filter((feature) => !this.#isSettled(definition, feature))
          .map((feature) => answerKey(definition.name, feature?.id ?? null)),
      );
  }

  #isSettled(definition: Definition, feature: PlanFeature | null): boolean {
    const print = this.#print(definition, feature);
    const have = this.#results.get(answerKey(definition.name, feature?.id ?? null));
    return print !== null && have?.fingerprint === print;
  }

  /** All that can be worked out now, in order; what is kept and current is settled on the way. */
  #findStale(settle: (settled: Settled) => void): Stale[] {
    const stale: Stale[] = [];
    for (const definition of this.#definitions) {
      for (const feature of this.#subjects(definition)) {
        const print = this.#print(definition, feature);
        if (print === null) continue;
        const key = answerKey(definition.name, feature?.id ?? null);
        if (this.#results.get(key)?.fingerprint === print) continue;
        const kept = this.#cache.get(key)?.find((k) => k.fingerprint === print);
        if (kept) {
          this.#settle(definition, feature?.id ?? null, kept, settle);
          continue;
        }
        stale.push({ definition, feature, print, rank: this.#rank(definition, feature) });
      }
    }
    return stale.sort((one, other) => (other.rank === one.rank ? 0 : other.rank - one.rank));
  }

  /** The higher, the sooner its turn; 0 with the site's answers, in the order of the definitions. */
  #rank({ first, last, unhurried }: Definition, feature: PlanFeature | null): number {
    if (first) return Infinity;
    if (last) return -1;
    if (!feature || (unhurried && !this.#current.isTouchedLast(feature))) return 0;
    return this.#current.rank(feature);
  }

  /** An input has changed: what is stale is to be found anew. */
  #inputsChanged(): void {
    this.#reads.clear();
    this.#stale = null;
  }

  /** The last value of a site answer, current or not; undefined before there is one. */
  siteValue(name: string): unknown {
    return this.#results.get(answerKey(name, null))?.value;
  }

  /** True while the job's result would still be the current one. */
  isCurrent(job: Job): boolean {
    const definition = this.#byName.get(job.name)!;
    const feature = job.featureId === null ? null : this.#current.features.get(job.featureId);
    if (feature === undefined) return false;
    return this.#print(definition, feature) === job.fingerprint;
  }

  /** Takes a finished job's value; a stale one is kept for later but not settled. */
  done(job: Job, value: unknown, settle: (settled: Settled) => void): void {
    const definition = this.#byName.get(job.name)!;
    const kept: Kept = { fingerprint: job.fingerprint, value };
    const key = answerKey(job.name, job.featureId);
    const shelf = this.#cache.get(key) ?? [];
    shelf.unshift(kept);
    shelf.length = Math.min(shelf.length, definition.keep ?? 8);
    this.#cache.set(key, shelf);
    if (!this.isCurrent(job)) return;
    this.#settle(definition, job.featureId, kept, settle);
    // Others read the site's answers only.
    if (job.featureId === null) this.#stale = null;
    else this.#stale = this.#stale?.filter((one) => !isFor(one, job)) ?? null;
  }

  #settle(definition: Definition, id: string | null, kept: Kept, settle: (s: Settled) => void) {
    this.#results.set(answerKey(definition.name, id), kept);
    settle({
      name: definition.name,
      featureId: id,
      shown: definition.shown !== false,
      value: kept.value,
    });
  }

  #forget(feature: PlanFeature): Settled[] {
    const gone: Settled[] = [];
    for (const definition of this.#definitions) {
      if (!kindsOf(definition).includes(feature.kind)) continue;
      const key = answerKey(definition.name, feature.id);
      if (!this.#results.delete(key)) continue;
      gone.push({
        name: definition.name,
        featureId: feature.id,
        shown: definition.shown !== false,
        value: null,
      });
    }
    return gone;
  }

  #subjects(definition: Definition): readonly (PlanFeature | null)[] {
    return definition.per === 'site'
      ? [null]
      : kindsOf(definition).flatMap((kind) => this.#current.ofKind(kind));
  }

  /** Fingerprint of all that an answer reads; null while an answer that it waits for is stale. */
  #print(definition: Definition, feature: PlanFeature | null): string | null {
    const parts = [definition.name];
    for (const read of definition.reads) {
      const part = this.#readPrint(read);
      if (part === null) return null;
      parts.push(part);
    }
    if (feature) parts.push(fingerprint(feature));
    return hashText(parts.join('|'));
  }

  #readPrint(read: string): string | null {
    const known = this.#reads.get(read);
    if (known !== undefined) return known;
    const print = this.#readPrintAnew(read);
    if (print !== null) this.#reads.set(read, print);
    return print;
  }

  #readPrintAnew(read: string): string | null {
    const [sort, name] = splitRead(read);
    if (sort !== 'answer') return this.#current.print(sort, name);
    const definition = this.#byName.get(name)!;
    const wanted = this.#print(definition, null);
    const have = this.#results.get(answerKey(name, null));
    if (wanted === null || wanted !== have?.fingerprint) return null;
    return definition.seenAs?.(have.value) ?? wanted;
  }

  #inputs(): Inputs {
    return {
      raster: (name) => this.#current.rasters[name] ?? null,
      features: (kind) => this.#current.ofKind(kind),
      settings: this.#current.settings,
      conditions: this.#current.conditions,
      answer: (name) => this.#results.get(answerKey(name, null))?.value ?? null,
    };
  }
}

function start(definition: Definition, inputs: Inputs, feature: PlanFeature | null): Work<unknown> {
  const begun =
    definition.per === 'site' ? definition.compute(inputs) : definition.compute(inputs, feature!);
  return 'done' in begun ? finished(begun.done) : begun;
}

// eslint-disable-next-line require-yield
function* finished<T>(value: T): Work<T> {
  return value;
}

function isFor({ definition, feature }: Stale, job: Job): boolean {
  return definition.name === job.name && (feature?.id ?? null) === job.featureId;
}

function splitRead(read: string): [string, string] {
  const at = read.indexOf(':');
  return [read.slice(0, at), read.slice(at + 1)];
}
