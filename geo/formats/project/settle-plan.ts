import { kinds, kindNames } from '../../plan/kinds.ts';
import {
  isObject,
  planMaps,
  type PlanMap,
  type RawMap,
  type RawPlan,
} from '../../plan/raw-plan.ts';
import type { Problem } from '../../result.ts';
import { parseStored } from './parse-stored.ts';
import { shellNames } from './write-plan-geojson.ts';

export interface SettledPlan {
  /** Values that fit are completed; others stay as they came, for the document to hold aside. */
  readonly plan: RawPlan;
  readonly heldAside: readonly {
    readonly map: PlanMap;
    readonly key: string;
    readonly problem: Problem;
  }[];
  /** How many features came with properties that this version does not know. */
  readonly withExtras: number;
}

/**
 * Sorts out a plan from a file: values that fit are completed with their defaults; properties that a
 * feature's kind does not have go to `extras`, so that the feature can be used and they come out
 * again when it is saved; whatever else does not fit stays as it is and is told.
 */
export function settlePlan(raw: RawPlan): SettledPlan {
  const heldAside: { map: PlanMap; key: string; problem: Problem }[] = [];
  const extras: Record<string, unknown> = { ...raw.extras };
  const maps = {} as Record<PlanMap, Record<string, unknown>>;
  for (const map of planMaps) {
    maps[map] = {};
    for (const [key, value] of Object.entries(raw[map])) {
      const { known, unknown } =
        map === 'features' ? split(value) : { known: value, unknown: null };
      const parsed = parseStored(map, key, known);
      if (parsed.ok) {
        maps[map][key] = parsed.value;
        if (unknown) extras[key] = unknown;
      } else {
        maps[map][key] = value;
        heldAside.push({ map, key, problem: parsed.problem });
      }
    }
  }
  return { plan: { ...maps, extras }, heldAside, withExtras: Object.keys(extras).length };
}

/** A feature, named, without the properties that its kind does not have; and those. */
function split(given: unknown): { known: unknown; unknown: RawMap | null } {
  const isKnown = isObject(given) && isObject(given.properties);
  const kind = isKnown ? kindNames.find((name) => name === given.kind) : undefined;
  if (!isKnown || kind === undefined) return { known: given, unknown: null };
  const feature: RawMap = { name: '', ...given };
  const entries = kinds[kind].properties.entries as object;
  const own = Object.entries(feature.properties as RawMap);
  const unknown = own.filter(([key]) => !Object.hasOwn(entries, key));
  // A property that the file has another use for could not come back from it as one.
  const isTaken = unknown.some(([key]) => key === 'id' || shellNames.includes(key));
  if (unknown.length === 0 || isTaken) return { known: feature, unknown: null };
  const properties = Object.fromEntries(own.filter(([key]) => Object.hasOwn(entries, key)));
  return { known: { ...feature, properties }, unknown: Object.fromEntries(unknown) };
}
