import { describe, expect, test } from 'vitest';
import { bringIn } from '../../geo/formats/vector/bring-in.ts';
import { isGroupColumn, readSoilGroup } from '../../geo/formats/vector/soil-columns.ts';
import { finish } from '../../geo/work.ts';
import { opened } from '../vector-rig.ts';

/** Soil-survey polygons: `hydgrpdcd` and its kin (trade notes §3.3), dual groups among them. */

test('columns of the public survey and of maps made from it; nothing else', () => {
  for (const column of [
    'hydgrpdcd',
    'HYDGRP',
    'hydgrp_r',
    'HydrolGrp_',
    'hydro_group',
    'hydrologic_soil_group',
    'HSG',
  ]) {
    expect(isGroupColumn(column), column).toBe(true);
  }
  for (const column of ['muname', 'hydricrating', 'hydclprs', 'group', 'shsg']) {
    expect(isGroupColumn(column), column).toBe(false);
  }
});

test.each([
  ['A', 'A'],
  [' b ', 'B'],
  ['C/D', 'C/D'],
  ['b/d', 'B/D'],
  ['A-D', 'A/D'],
  ['BD', 'B/D'],
  ['D/D', 'D'],
  ['Group C', 'C'],
  ['', null],
  ['W', null],
  ['E', null],
  ['C/B', null],
  [3, null],
])('%j is %j', (value, group) => {
  expect(readSoilGroup(value)).toBe(group);
});

describe('brought in', () => {
  const square = (west: number) => [[[west, 36], [west + 0.01, 36], [west + 0.01, 36.01], [west, 36.01], [west, 36]]]; // prettier-ignore
  const soil = (west: number, properties: object) => ({
    type: 'Feature',
    geometry: { type: 'Polygon', coordinates: square(west) },
    properties,
  });
  const file = JSON.stringify({
    type: 'FeatureCollection',
    features: [
      soil(-75, { musym: 'MeC', muname: 'Merrow silt loam, 2 to 8 percent', hydgrpdcd: 'C/D' }),
      soil(-75.02, { musym: 'W', muname: 'Water', hydgrpdcd: '' }),
    ],
  });

  test('they are soil areas with group and series; the one without is counted', async () => {
    const { features, notes } = await opened({ 'soils.geojson': file });
    expect(features.map(({ suggested }) => suggested.kind)).toEqual(['soil-area', 'soil-area']);
    expect(features[0]!.suggested.why).toMatch(/hydgrpdcd/);
    expect(notes.join(' ')).toMatch(/1 of 2 soil outlines name their group; the others/);
    let next = 0;
    const picks = features.map(({ index }) => ({ index, kind: 'soil-area', name: null, clean: null }) as const); // prettier-ignore
    const made = finish(bringIn(features, picks, () => `id-${next++}`));
    expect(made.leftOut).toEqual([]);
    expect(made.features.map(({ name, properties }) => ({ name, ...properties }))).toMatchObject([
      {
        name: 'Merrow silt loam, 2 to 8 percent',
        series: 'Merrow silt loam, 2 to 8 percent',
        hydrologicGroup: 'C/D',
        drained: false,
      },
      { name: 'Water', hydrologicGroup: null },
    ]);
  });
});
