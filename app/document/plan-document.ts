import * as Y from 'yjs';
import { defaultConditions, type Conditions } from '../../geo/plan/conditions.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { defaultSettings, type Settings } from '../../geo/plan/settings.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import { ok, type Problem, type Result } from '../../geo/result.ts';
import type { PhotoRecord } from '../../geo/raster/photo-record.ts';
import { parseStored } from '../../geo/formats/project/parse-stored.ts';
import { migratePlan } from '../../geo/plan/migrations/migrate.ts';
import { planMaps, type PlanMap, type RawPlan } from '../../geo/plan/raw-plan.ts';
import { sameValue } from './same-value.ts';
import { UndoSteps, type KeyChange } from './undo-steps.ts';

/** Conditions are saved but are not part of undo. */
type UndoableMap = Exclude<PlanMap, 'conditions'>;
const undoableMaps = planMaps.filter((map): map is UndoableMap => map !== 'conditions');
/** Everything that is stored of a plan: the maps, and what came with features and is not known. */
const storedMaps = [...planMaps, 'extras'] as const;

/** Marks a transaction of the document that was a gesture of this tab's user. */
export const gestureMark = 'gesture';

/** What one gesture changes, as data; null takes a thing out of the plan. */
export interface PlanChange {
  readonly features?: Readonly<Record<string, PlanFeature | null>>;
  readonly settings?: Partial<Settings>;
  readonly grounds?: Readonly<Record<string, GroundRecord | null>>;
  readonly photos?: Readonly<Record<string, PhotoRecord | null>>;
}

/** The plan as it stands, valid values only. What has not changed keeps its identity. */
export interface PlanSnapshot {
  readonly features: Readonly<Record<string, PlanFeature>>;
  readonly settings: Settings;
  readonly conditions: Conditions;
  readonly grounds: Readonly<Record<string, GroundRecord>>;
  readonly photos: Readonly<Record<string, PhotoRecord>>;
  /** Values found in storage or sent by another tab that do not fit: kept there, not shown. */
  readonly heldAside: readonly HeldAside[];
}

export interface HeldAside {
  readonly map: PlanMap;
  readonly key: string;
  readonly problem: Problem;
}

/** The one owner of the plan. Everything that reads it gets snapshots; `transact` is the way in. */
export class PlanDocument {
  readonly doc: Y.Doc;
  readonly #maps: Record<PlanMap | 'extras', Y.Map<unknown>>;
  readonly #steps = new UndoSteps<UndoableMap>();
  readonly #listeners = new Set<(snapshot: PlanSnapshot) => void>();
  readonly #changed = new Map<PlanMap, Set<string>>();
  readonly #valid: Record<PlanMap, Readonly<Record<string, unknown>>> = {
    features: {},
    settings: {},
    grounds: {},
    photos: {},
    conditions: {},
  };
  #heldAside: readonly HeldAside[] = [];
  #snapshot: PlanSnapshot;

  /** `clientId` only for tests that must repeat byte for byte; two tabs may never share one. */
  constructor(clientId?: number) {
    this.doc = new Y.Doc();
    if (clientId !== undefined) this.doc.clientID = clientId;
    this.#maps = Object.fromEntries(
      storedMaps.map((name) => [name, this.doc.getMap(name)]),
    ) as Record<PlanMap | 'extras', Y.Map<unknown>>;
    for (const name of planMaps) {
      const map = this.#maps[name];
      map.observe((event) => {
        const keys = this.#changed.get(name) ?? new Set();
        for (const key of event.keysChanged as Set<string>) {
          keys.add(key);
          if (name !== 'conditions' && event.transaction.origin !== this) {
            this.#steps.touchedElsewhere(name, key, map.get(key));
          }
        }
        this.#changed.set(name, keys);
      });
    }
    this.#snapshot = this.#compose();
    this.doc.on('afterTransaction', () => this.#refresh());
  }

  get snapshot(): PlanSnapshot {
    return this.#snapshot;
  }

  get canUndo(): boolean {
    return this.#steps.canUndo;
  }

  get canRedo(): boolean {
    return this.#steps.canRedo;
  }

  /**
   * Makes one change and one undo step, or, when any value does not fit, nothing at all.
   * The answer says whether anything differs from before.
   */
  transact(change: PlanChange): Result<boolean> {
    return this.#change(change, true);
  }

  /** As `transact`, but no undo step: what a plan starts with is not for taking back. */
  seed(change: PlanChange): Result<boolean> {
    return this.#change(change, false);
  }

  #change(change: PlanChange, undoable: boolean): Result<boolean> {
    const step: KeyChange<UndoableMap>[] = [];
    for (const map of undoableMaps) {
      for (const [key, value] of Object.entries(change[map] ?? {})) {
        const parsed =
          value === null && map !== 'settings' ? ok(undefined) : parseStored(map, key, value);
        if (!parsed.ok) return parsed;
        const before = this.#maps[map].get(key);
        const shown = before === undefined && map === 'settings' ? this.#setting(key) : before;
        if (sameValue(shown, parsed.value)) continue;
        step.push({ map, key, before, after: parsed.value });
      }
    }
    if (step.length === 0) return ok(false);
    // Recorded first, so that whoever hears of the change finds undo ready.
    if (undoable) this.#steps.record(step);
    this.#write(step, undoable);
    return ok(true);
  }

  /** Grounds and photos that the plan names, also those of records that it cannot read. */
  get rasterIds(): string[] {
    return [...this.#maps.grounds.keys(), ...this.#maps.photos.keys()].sort();
  }

  /** Everything that is stored, as it is stored: what does not fit and is not shown, too. */
  raw(): RawPlan {
    return Object.fromEntries(
      storedMaps.map((name) => [name, Object.fromEntries(this.#maps[name].entries())]),
    ) as unknown as RawPlan;
  }

  /**
   * Makes the document hold exactly this plan; no undo step. What does not fit is kept and comes up
   * in `heldAside`. Nothing is written where nothing differs.
   */
  load(plan: RawPlan): void {
    this.doc.transact(() => {
      for (const name of storedMaps) {
        const map = this.#maps[name];
        for (const key of [...map.keys()]) if (!Object.hasOwn(plan[name], key)) map.delete(key);
        for (const [key, value] of Object.entries(plan[name])) {
          if (!sameValue(map.get(key), value)) map.set(key, value);
        }
      }
    }, this);
  }

  /** Brings a stored plan of an older version up to date, in one change that is no undo step. */
  migrate(version: number): void {
    this.load(migratePlan(this.raw(), version));
  }

  /** Rain, wind and hour: saved and shared with other tabs, never an undo step. */
  setConditions(change: Partial<Conditions>): Result<boolean> {
    const writes: [string, unknown][] = [];
    for (const [key, value] of Object.entries(change)) {
      const parsed = parseStored('conditions', key, value);
      if (!parsed.ok) return parsed;
      if (!sameValue(this.#snapshot.conditions[key as keyof Conditions], parsed.value)) {
        writes.push([key, parsed.value]);
      }
    }
    if (writes.length === 0) return ok(false);
    this.doc.transact(() => {
      for (const [key, value] of writes) this.#maps.conditions.set(key, value);
    }, this);
    return ok(true);
  }

  /** Takes back the newest own step; false when there was nothing to take back. */
  undo(): boolean {
    return this.#write(this.#steps.undo());
  }

  redo(): boolean {
    return this.#write(this.#steps.redo());
  }

  /** Calls after every change from anywhere; returns how to stop it. */
  subscribe(listener: (snapshot: PlanSnapshot) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  close(): void {
    this.#listeners.clear();
    this.doc.destroy();
  }

  #write(step: readonly KeyChange<UndoableMap>[] | null, isGesture = true): boolean {
    if (step === null) return false;
    this.doc.transact((transaction) => {
      if (isGesture) transaction.meta.set(gestureMark, true);
      for (const { map, key, after } of step) {
        if (after === undefined) this.#maps[map].delete(key);
        else this.#maps[map].set(key, after);
      }
    }, this);
    return true;
  }

  #setting(key: string): unknown {
    return defaultSettings[key as keyof Settings];
  }

  #refresh(): void {
    if (this.#changed.size === 0) return;
    for (const [map, keys] of this.#changed) this.#readKeys(map, keys);
    this.#changed.clear();
    this.#snapshot = this.#compose();
    for (const listener of this.#listeners) listener(this.#snapshot);
  }

  #readKeys(map: PlanMap, keys: ReadonlySet<string>): void {
    const values: Record<string, unknown> = { ...this.#valid[map] };
    const aside = this.#heldAside.filter((held) => held.map !== map || !keys.has(held.key));
    for (const key of keys) {
      const stored = this.#maps[map].get(key);
      const parsed = stored === undefined ? ok(undefined) : parseStored(map, key, stored);
      if (!parsed.ok) aside.push({ map, key, problem: parsed.problem });
      if (!parsed.ok || parsed.value === undefined) delete values[key];
      else if (!sameValue(values[key], parsed.value)) values[key] = parsed.value;
    }
    this.#valid[map] = values;
    if (aside.length > 0 || this.#heldAside.length > 0) this.#heldAside = aside;
  }

  #compose(): PlanSnapshot {
    const valid = this.#valid;
    const last = this.#snapshot as PlanSnapshot | undefined;
    const settings = { ...defaultSettings, ...valid.settings };
    const conditions = { ...defaultConditions, ...valid.conditions };
    return {
      features: valid.features as PlanSnapshot['features'],
      grounds: valid.grounds as PlanSnapshot['grounds'],
      photos: valid.photos as PlanSnapshot['photos'],
      settings: last && sameValue(last.settings, settings) ? last.settings : settings,
      conditions: last && sameValue(last.conditions, conditions) ? last.conditions : conditions,
      heldAside: this.#heldAside,
    };
  }
}
