import { expect, test } from 'vitest';
import { findSystems } from '../../geo/frame/find-systems.ts';

/** Codes and names are those of the EPSG registry, from memory; the table itself is held by GDAL. */
const codes = (text: string, most?: number) => findSystems(text, most).map((one) => one.epsg);

test('by name, as people write it', () => {
  expect(codes('zone 5 california ftUS')[0]).toBe(2229);
  expect(codes('California zone 5 feet')[0]).toBe(2229);
  expect(codes('tennessee us survey feet')[0]).toBe(2274);
  expect(codes('NAD83(2011) UTM 16N')[0]).toBe(6345);
  expect(codes('state plane wisconsin central', 2)).toEqual([32153, 6879]);
  expect(codes('utm zone 17n', 3)).toEqual([26917, 6346, 32617]);
});

test('what has no table row: the zones of drones, degrees, web mercator', () => {
  expect(codes('WGS84 UTM zone 17N')).toEqual([32617]);
  expect(codes('wgs 84 utm zone 17s')).toEqual([32717]);
  expect(codes('wgs84')[0]).toBe(4326);
  expect(codes('web mercator')).toContain(3857);
});

test('by code, whole codes only', () => {
  for (const code of [26917, 2274, 32617, 4326, 3857]) {
    expect(codes(String(code))).toEqual([code]);
    expect(codes(`EPSG:${code}`)).toEqual([code]);
  }
  expect(codes('2691')).toEqual([]);
  expect(codes('99999')).toEqual([]);
});

test('nothing for nothing, at most so many, none twice', () => {
  expect(codes('   ')).toEqual([]);
  expect(codes('epsg')).toEqual([]);
  expect(codes('zone', 7)).toHaveLength(7);
  const all = codes('n', 10_000);
  expect(new Set(all).size).toBe(all.length);
});
