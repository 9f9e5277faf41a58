import { defaultConditions, type Conditions } from '../plan/conditions.ts';
import type { PlanFeature } from '../plan/feature.ts';
import type { Kind } from '../plan/kinds.ts';
import { defaultSettings, type Settings } from '../plan/settings.ts';
import type { Work } from '../work.ts';
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

interface Kept {
  readonly fingerprint: string;
  readonly value: unknown;
}

export class AnswerGraph {
  readonly #definitions: readonly Definition[];
  readonly #byName: ReadonlyMap<string, Definition>;
  readonly #features = new Map<string, PlanFeature>();
  readonly #touched = new Map<string, number>();
  readonly #results = new Map<string, Kept>();
  readonly #cache = new Map<string, Kept[]>();
  #rasters: Partial<Rasters> = {};
  #settings: Settings = defaultSettings;
  #conditions: Conditions = defaultConditions;
  #turn = 0;

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
    this.#rasters = rasters;
  }

  setSettings(settings: Settings): void {
    this.#settings = settings;
  }

  setConditions(conditions: Conditions): void {
    this.#conditions = conditions;
  }

  /** Changed features; null removes one. Returns the answers that went with removed features. */
  putFeatures(features: Readonly<Record<string, PlanFeature | null>>): Settled[] {
    const gone: Settled[] = [];
    const turn = ++this.#turn;
    for (const [id, feature] of Object.entries(features)) {
      const before = this.#features.get(id);
      if (before && feature && fingerprint(before) === fingerprint(feature)) continue;
      if (feature !== null) {
        this.#features.set(id, feature);
        this.#touched.set(id, turn);
      } else {
        this.#features.delete(id);
        this.#touched.delete(id);
      }
      if (before && before.kind !== feature?.kind) gone.push(...this.#forget(before));
    }
    return gone;
  }

  /** Settles every answer anew, from what is kept where that is current: another plan is shown. */
  forgetSettled(): void {
    this.#results.clear();
  }

  /** Replaces the whole plan. */
  setFeatures(features: readonly PlanFeature[]): Settled[] {
    const next: Record<string, PlanFeature | null> = {};
    for (const id of this.#features.keys()) next[id] = null;
    for (const feature of features) next[feature.id] = feature;
    return this.putFeatures(next);
  }

  /**
   * Results that are current from the cache are settled at once through `settle`; the first answer
   * that needs work is returned as a job, or null when all are current. What was touched last comes
   * first, then the order of the definitions.
   */
  next(settle: (settled: Settled) => void): Job | null {
    const prints = new Map<string, string>();
    let best: {
      definition: Definition;
      feature: PlanFeature | null;
      print: string;
      rank: number;
    } | null = null;
    for (const definition of this.#definitions) {
      for (const feature of this.#subjects(definition)) {
        const print = this.#print(definition, feature, prints);
        if (print === null) continue;
        const key = keyOf(definition.name, feature?.id ?? null);
        if (this.#results.get(key)?.fingerprint === print) continue;
        const kept = this.#cache.get(key)?.find((k) => k.fingerprint === print);
        if (kept) {
          this.#settle(definition, feature?.id ?? null, kept, settle);
          continue;
        }
        const rank = feature ? (this.#touched.get(feature.id) ?? 0) : 0;
        if (!best || rank > best.rank) best = { definition, feature, print, rank };
      }
    }
    if (!best) return null;
    const { definition, feature, print } = best;
    return {
      name: definition.name,
      featureId: feature?.id ?? null,
      fingerprint: print,
      begin: () => start(definition, this.#inputs(), feature),
    };
  }

  /** True while the job's result would still be the current one. */
  isCurrent(job: Job): boolean {
    const definition = this.#byName.get(job.name)!;
    const feature =
      job.featureId === null ? null : (this.#features.get(job.featureId) ?? undefined);
    if (feature === undefined) return false;
    return this.#print(definition, feature, new Map()) === job.fingerprint;
  }

  /** Takes a finished job's value; a stale one is kept for later but not settled. */
  done(job: Job, value: unknown, settle: (settled: Settled) => void): void {
    const definition = this.#byName.get(job.name)!;
    const kept: Kept = { fingerprint: job.fingerprint, value };
    const key = keyOf(job.name, job.featureId);
    const shelf = this.#cache.get(key) ?? [];
    shelf.unshift(kept);
    shelf.length = Math.min(shelf.length, definition.keep ?? 8);
    this.#cache.set(key, shelf);
    if (this.isCurrent(job)) this.#settle(definition, job.featureId, kept, settle);
  }

  #settle(definition: Definition, id: string | null, kept: Kept, settle: (s: Settled) => void) {
    this.#results.set(keyOf(definition.name, id), kept);
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
      const key = keyOf(definition.name, feature.id);
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
    return definition.per === 'site' ? [null] : kindsOf(definition).flatMap((k) => this.#ofKind(k));
  }

  #ofKind(kind: Kind): PlanFeature[] {
    return [...this.#features.values()].filter((f) => f.kind === kind);
  }

  /** Fingerprint of all that an answer reads; null while an answer that it waits for is stale. */
  #print(
    definition: Definition,
    feature: PlanFeature | null,
    prints: Map<string, string>,
  ): string | null {
    const parts = [definition.name];
    for (const read of definition.reads) {
      const part = this.#readPrint(read, prints);
      if (part === null) return null;
      parts.push(part);
    }
    if (feature) parts.push(fingerprint(feature));
    return hashText(parts.join('|'));
  }

  #readPrint(read: string, prints: Map<string, string>): string | null {
    const known = prints.get(read);
    if (known !== undefined) return known;
    const print = this.#readPrintAnew(read, prints);
    if (print !== null) prints.set(read, print);
    return print;
  }

  #readPrintAnew(read: string, prints: Map<string, string>): string | null {
    const [sort, name] = splitRead(read);
    switch (sort) {
      case 'raster': {
        // The same numbers laid elsewhere are another ground: the id names only the numbers.
        const record = this.#rasters[name as keyof Rasters]?.record;
        return record ? `${record.id}@${fingerprint(record.place)}` : 'none';
      }
      case 'record':
        return fingerprint(this.#rasters[name as keyof Rasters]?.record ?? null);
      case 'features':
        return this.#ofKind(name as Kind)
          .map(fingerprint)
          .sort()
          .join(',');
      case 'setting':
        return fingerprint(this.#settings[name as keyof Settings]);
      case 'condition':
        return fingerprint(this.#conditions[name as keyof Conditions]);
      default: {
        const definition = this.#byName.get(name)!;
        const wanted = this.#print(definition, null, prints);
        const have = this.#results.get(keyOf(name, null));
        if (wanted === null || wanted !== have?.fingerprint) return null;
        return definition.seenAs?.(have.value) ?? wanted;
      }
    }
  }

  #inputs(): Inputs {
    return {
      raster: (name) => this.#rasters[name] ?? null,
      features: (kind) => this.#ofKind(kind),
      settings: this.#settings,
      conditions: this.#conditions,
      answer: (name) => this.#results.get(keyOf(name, null))?.value ?? null,
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

function keyOf(name: string, featureId: string | null): string {
  return featureId === null ? name : `${name}/${featureId}`;
}

function splitRead(read: string): [string, string] {
  const at = read.indexOf(':');
  return [read.slice(0, at), read.slice(at + 1)];
}
