import { unpackRecord } from '../formats/wind/pack-record.ts';
import type { WindRecord } from '../plan/wind-record.ts';
import type { Settings } from '../plan/settings.ts';
import { sunParts, usualParts, type SunParts } from '../wind/sun-parts.ts';
import type { HuntingSeason } from '../wind/hunting-season.ts';
import type { SiteDefinition } from './definition.ts';
import { fingerprint } from './fingerprint.ts';
import { firstPosition } from './first-position.ts';

/** The record that counts, and each of its hours by the sun of the site. */
export interface WindInUse {
  readonly station: Settings['windStations'][number];
  readonly record: WindRecord;
  readonly sun: SunParts;
  readonly longitude: number;
  readonly latitude: number;
}

export function seasonOf({ huntingSeason: [from, to] }: Settings): HuntingSeason {
  return { from: { month: from[0], day: from[1] }, to: { month: to[0], day: to[1] } };
}

export function dayPartsOf(settings: Settings): typeof usualParts {
  return {
    ...usualParts,
    light: {
      beforeSunriseMinutes: settings.lightBeforeSunriseMinutes,
      afterSunsetMinutes: settings.lightAfterSunsetMinutes,
    },
  };
}

/** Settings by which hours are sorted. */
export const lightSettings = [
  'huntingSeason',
  'lightBeforeSunriseMinutes',
  'lightAfterSunsetMinutes',
] as const;

/** The first station's record, sorted by the sun where the first stand or plot is. */
export const windRecord: SiteDefinition = {
  name: 'windRecord',
  per: 'site',
  shown: false,
  keep: 2,
  reads: [
    'setting:windStations',
    ...lightSettings.map((key) => `setting:${key}` as const),
    'answer:sitePlace',
  ],
  compute(inputs): { done: WindInUse | null } {
    const { settings } = inputs;
    const station = settings.windStations[0];
    const at = inputs.answer('sitePlace') as readonly [number, number] | null;
    const place = at ?? placeOf(station);
    if (!station || !place) return { done: null };
    const read = unpackRecord(station.hours);
    if (!read.ok) return { done: null };
    const [longitude, latitude] = place;
    const sun = sunParts(read.value, longitude, latitude, seasonOf(settings), dayPartsOf(settings));
    return { done: { station, record: read.value, sun, longitude, latitude } };
  },
};

function placeOf(
  station: Settings['windStations'][number] | undefined,
): readonly [number, number] | null {
  if (!station || station.longitude === null || station.latitude === null) return null;
  return [station.longitude, station.latitude];
}

/** Where the site is, to a hundredth of a degree: the sun knows no more. */
export const sitePlace: SiteDefinition = {
  name: 'sitePlace',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['features:stand', 'features:plot', 'record:ground', 'raster:ground'],
  compute(inputs): { done: readonly [number, number] | null } {
    const ground = inputs.raster('ground');
    const first = [...inputs.features('stand'), ...inputs.features('plot')][0];
    const to = (value: number) => Math.round(value * 100) / 100;
    if (ground) {
      const [west, south, east, north] = ground.record.bounds;
      return { done: [to((west + east) / 2), to((south + north) / 2)] };
    }
    if (!first) return { done: null };
    const [lng, lat] = firstPosition(first);
    return { done: [to(lng), to(lat)] };
  },
  seenAs: (value) => fingerprint(value),
};
