import { Geodesic } from 'geographiclib-geodesic';
import { describe, expect, test } from 'vitest';
import { heightAt, placeAtStation, stationNear } from '../../app/page/section/along-line.ts';
import { heightScale } from '../../app/page/section/chart-scale.ts';
import { slopeWords } from '../../app/page/section/slope-words.ts';
import { straightRuns } from '../../app/page/section/straight-runs.ts';
import type { Position } from '../../geo/plan/feature.ts';

describe('places along a section', () => {
  const line: Position[] = [
    [-75, 36.14],
    [-74.998, 36.141],
    [-74.997, 36.139],
  ];
  // Truth: GeographicLib's lengths and points along its geodesics.
  const lengths = line
    .slice(1)
    .map(([lng, lat], i) => Geodesic.WGS84.Inverse(line[i]![1], line[i]![0], lat, lng).s12!);
  const corners = [0, lengths[0]!, lengths[0]! + lengths[1]!];

  test('a station lies where the geodesic reaches it, to a centimetre', () => {
    for (const station of [0, 10, 120, lengths[0]!, lengths[0]! + 77, corners[2]!]) {
      const i = station > lengths[0]! ? 1 : 0;
      const [from, to] = [line[i]!, line[i + 1]!];
      const azimuth = Geodesic.WGS84.Inverse(from[1], from[0], to[1], to[0]).azi1!;
      const truth = Geodesic.WGS84.Direct(from[1], from[0], azimuth, station - corners[i]!);
      const [lng, lat] = placeAtStation(line, corners, station);
      expect(Geodesic.WGS84.Inverse(lat, lng, truth.lat2!, truth.lon2!).s12!).toBeLessThan(0.01);
      const back = stationNear(line, corners, [lng, lat]);
      expect(Math.abs(back.stationMeters - station)).toBeLessThan(0.01);
      expect(back.awayMeters).toBeLessThan(0.01);
    }
  });

  test('a place beside the line is as far off as the geodesic says; the ends hold', () => {
    const [lng, lat] = placeAtStation(line, corners, 100);
    const along = Geodesic.WGS84.Inverse(line[0]![1], line[0]![0], lat, lng).azi1!;
    const aside = Geodesic.WGS84.Direct(lat, lng, along + 90, 12);
    const near = stationNear(line, corners, [aside.lon2!, aside.lat2!]);
    expect(Math.abs(near.stationMeters - 100)).toBeLessThan(0.05);
    expect(Math.abs(near.awayMeters - 12)).toBeLessThan(0.05);
    expect(placeAtStation(line, corners, -5)).toEqual(line[0]);
    expect(placeAtStation(line, corners, 1e9)).toEqual(line[2]);
  });

  test('heights are straight between stations, and a gap has none', () => {
    const stations = [0, 10, 20, 30];
    expect(heightAt(stations, [1, 3, null, 5], 5)).toBe(2);
    expect(heightAt(stations, [1, 3, null, 5], 15)).toBeNull();
    expect(heightAt(stations, [1, 3, 4, 5], 30)).toBe(5);
  });
});

describe('how tall heights are drawn', () => {
  test('round times, as tall as fits', () => {
    // 600 ft on 1000 px is 1.667 px a foot; 20 ft at 4 times fill 133 of 200 px, at 3 times 100.
    const scale = heightScale(600, 700, 720, 1000, 200);
    expect(scale.times).toBe(3);
    expect(scale.top - scale.bottom).toBeCloseTo(200 / (3 * (1000 / 600)), 9);
    expect(scale.bottom).toBeLessThan(700);
    expect(scale.top).toBeGreaterThan(720);
  });
  test('level ground is not blown up without end; a cliff is drawn whole', () => {
    expect(heightScale(600, 700, 700, 1000, 200).times).toBe(100);
    const cliff = heightScale(100, 0, 400, 1000, 200);
    expect(cliff.times).toBeLessThan(1);
    expect(cliff.bottom).toBeLessThan(0);
    expect(cliff.top).toBeGreaterThan(400);
  });
});

test('runs that can be read: the tolerance doubles until there are few enough', () => {
  const stations = Array.from({ length: 200 }, (_, i) => i);
  const heights = stations.map((s) => 10 + (s < 100 ? 0.05 * s : 10 - 0.05 * s) + (s % 2) * 0.1);
  const { runs, toleranceMeters } = straightRuns(stations, heights, 0.04, 4);
  expect(runs.length).toBeLessThanOrEqual(4);
  expect(toleranceMeters).toBe(0.16);
  expect(runs[0]!.slope).toBeCloseTo(0.05, 2);
  expect(runs.at(-1)!.slope).toBeCloseTo(-0.05, 2);
});

test('slopes in words, along the stations', () => {
  expect([slopeWords(0.032), slopeWords(-0.155), slopeWords(0.0001)]).toEqual([
    'rises 3.2 %',
    'falls 16 %',
    'level',
  ]);
});
