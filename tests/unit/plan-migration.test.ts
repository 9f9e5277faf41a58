import { readFileSync } from 'node:fs';
import { zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { migratePlan, schemaVersion } from '../../geo/plan/migrations/migrate.ts';
import { emptyRawPlan } from '../../geo/plan/raw-plan.ts';
import { openZip, testProject } from '../project-rig.ts';
import { valueOf } from '../geotiff-samples.ts';

/** The stored plan of version 0: fixtures/projects/version-0, written by hand when version 1 began. */
const version0 = (path: string) =>
  new Uint8Array(readFileSync(`fixtures/projects/version-0/${path}`));

test('a project of version 0 opens whole, with today’s names', async () => {
  const parts = {
    'plan.geojson': version0('plan.geojson'),
    'settings.json': version0('settings.json'),
  };
  const { plan, notes, missing } = valueOf(await openZip(zipSync(parts)));
  expect(notes).toEqual(['The plan was of version 0: brought up to date.']);
  expect(plan.features).toMatchObject({
    'berm-1': {
      kind: 'berm',
      name: 'Long berm',
      properties: { baseWidthMeters: 9, heightMeters: 2.5 },
    },
    // A heap's width has kept its name.
    'pile-1': { kind: 'heap', properties: { lengthMeters: 12, widthMeters: 5, toBurn: true } },
    'plot-1': { kind: 'plot', name: 'Hollow plot' },
  });
  expect(plan.settings).toMatchObject({ siteName: 'Kite hollow', jobNumber: '7', units: 'us' });
  expect(plan.conditions).toMatchObject({
    wind: { fromDegrees: 270, speedMetersPerSecond: 3 },
    // 1 792 000 000 s after 1970 began, by the calendar: 2026-10-14 17:46:40 UTC.
    hourUtc: '2026-10-14T17:46:40.000Z',
  });
  expect(Object.values(plan.grounds)).toMatchObject([{ clearing: 'unknown', notes: [] }]);
  expect(missing).toHaveLength(1);
});

test('a plan of this version passes through every step unchanged', () => {
  const { plan } = testProject();
  const hidden = { ...plan, features: { ...plan.features, strange: 7, other: { kind: 'tower' } } };
  for (let version = 0; version <= schemaVersion; version++) {
    expect(migratePlan(hidden, version)).toEqual(hidden);
  }
});

test('a version that is not there is a programmer error', () => {
  for (const version of [-1, 0.5, schemaVersion + 1, NaN]) {
    expect(() => migratePlan(emptyRawPlan(), version)).toThrow(RangeError);
  }
});
