import { describe, expect, it, test } from 'vitest';
import { recallLook, rememberLook, widestLook } from '../../app/services/last-look.ts';
import { readGroundPlace } from '../../app/words/read-ground-place.ts';
import { placeIn } from '../../geo/frame/place-in.ts';

describe('a place typed to go to', () => {
  it.each([
    ['36.5, -75.25', -75.25, 36.5],
    ['36.5 N 75.25 W', -75.25, 36.5],
    ["36°30' N 75°15' W", -75.25, 36.5],
  ])('%s is degrees', (text, lng, lat) => {
    expect(readGroundPlace(text)).toEqual({ is: 'degrees', at: [lng, lat] });
  });
  it.each([
    ['500000, 3985000', 500_000, 3_985_000, ''],
    ['500,000 3,985,000 EPSG:26918', 500_000, 3_985_000, 'EPSG:26918'],
    ['500000 E 3985000 N UTM zone 18N', 500_000, 3_985_000, 'UTM zone 18N'],
    ['E 500000.5 N 3985000.25, 26918', 500_000.5, 3_985_000.25, '26918'],
    ['2000000 ft, 750000 ft EPSG:2264', 2_000_000, 750_000, 'EPSG:2264'],
  ])('%s is a pair in a system', (text, x, y, system) => {
    expect(readGroundPlace(text)).toEqual({ is: 'projected', x, y, system, isSmall: false });
  });
  it.each([
    ['336, -574', 336, -574],
    ['95, 36', 95, 36],
  ])('%s is neither degrees nor likely a pair', (text, x, y) => {
    expect(readGroundPlace(text)).toEqual({ is: 'projected', x, y, system: '', isSmall: true });
  });
  it.each(['', 'home', '36.5', '1 2 three'])('%j is none by itself', (text) => {
    const read = readGroundPlace(text);
    expect(read.is === 'none' || (read.is === 'projected' && read.system !== '')).toBe(true);
  });
});

test('a pair in its system is where the system has its origin, in its own unit', () => {
  // Definitions of the systems in the EPSG register: UTM 18N has 500,000 m on 75° W and 0 on the
  // equator; 2264 has 2,000,000.0026 (609,601.22 m) US survey feet on 79° W, 0 at 33°45' N.
  const equator = placeIn(26918, 500_000, 0);
  expect(equator.ok && equator.value).toEqual([expect.closeTo(-75, 9), expect.closeTo(0, 9)]);
  const feet = placeIn(2264, 2_000_000.0026, 0);
  expect(feet.ok && feet.value).toEqual([expect.closeTo(-79, 7), expect.closeTo(33.75, 7)]);
  expect(placeIn(4326, -75, 36)).toEqual({ ok: true, value: [-75, 36] });
  expect(placeIn(4326, 336, -574).ok).toBe(false);
  expect(placeIn(999_999, 1, 1).ok).toBe(false);
});

test('the last place looked at is where an empty project begins; spoilt or no storage is none', () => {
  const kept = new Map<string, string>();
  const storage = () =>
    ({
      getItem: (key: string) => kept.get(key) ?? null,
      setItem: (key: string, value: string) => void kept.set(key, value),
    }) as unknown as Storage;
  expect(recallLook(storage)).toEqual(widestLook);
  rememberLook({ center: [-94.5, 42], zoom: 15.5 }, storage);
  expect(recallLook(storage)).toEqual({ center: [-94.5, 42], zoom: 15.5 });
  for (const spoilt of ['{', '[1]', '["a",2,3]', '[0,95,4]', '{"x":1}']) {
    kept.set([...kept.keys()][0]!, spoilt);
    expect(recallLook(storage), spoilt).toEqual(widestLook);
  }
  const none = () => {
    throw new Error('not allowed');
  };
  rememberLook(widestLook, none);
  expect(recallLook(none)).toEqual(widestLook);
});
