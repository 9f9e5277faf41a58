import { isObject, type RawMap, type RawPlan } from '../raw-plan.ts';

/**
 * Version 0 to 1. Version 0 had no demo mark and no ground state, called a berm's base `widthMeters`,
 * a heap `pile` and a plot `food-plot`, the site's name `site`, said units `feet`, the wind's
 * direction `bearingDegrees`, and kept the hour in milliseconds since 1970 UTC.
 */
export function fromVersion0(plan: RawPlan): RawPlan {
  return {
    ...plan,
    features: mapObjects(plan.features, feature),
    settings: settings(plan.settings),
    conditions: conditions(plan.conditions),
    grounds: mapObjects(plan.grounds, (ground) => ({ clearing: 'unknown', notes: [], ...ground })),
    photos: mapObjects(plan.photos, (photo) => ({ notes: [], ...photo })),
  };
}

const kindNames: Readonly<Record<string, string>> = { pile: 'heap', 'food-plot': 'plot' };

function feature(old: RawMap): RawMap {
  const kind = typeof old.kind === 'string' ? (kindNames[old.kind] ?? old.kind) : old.kind;
  if (kind !== 'berm' || !isObject(old.properties)) return { ...old, kind };
  return { ...old, kind, properties: renamed(old.properties, 'widthMeters', 'baseWidthMeters') };
}

function settings(old: RawMap): RawMap {
  const named = renamed(old, 'site', 'siteName');
  return named.units === 'feet' ? { ...named, units: 'us' } : named;
}

function conditions(old: RawMap): RawMap {
  const { hour, ...rest } = old;
  const wind = isObject(old.wind) ? renamed(old.wind, 'bearingDegrees', 'fromDegrees') : old.wind;
  const isInstant = typeof hour === 'number' && Math.abs(hour) < 8.64e15;
  return {
    ...rest,
    ...(wind !== undefined && { wind }),
    ...(isInstant && rest.hourUtc === undefined && { hourUtc: new Date(hour).toISOString() }),
    ...(!isInstant && hour !== undefined && { hour }),
  };
}

/** The member under its new name, unless that is taken. */
function renamed(object: RawMap, from: string, to: string): RawMap {
  if (!Object.hasOwn(object, from) || Object.hasOwn(object, to)) return object;
  const { [from]: value, ...rest } = object;
  return { ...rest, [to]: value };
}

function mapObjects(map: RawMap, change: (value: RawMap) => RawMap): RawMap {
  return Object.fromEntries(
    Object.entries(map).map(([key, value]) => [key, isObject(value) ? change(value) : value]),
  );
}
