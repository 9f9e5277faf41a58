import fc from 'fast-check';
import * as Y from 'yjs';
import { expect, it } from 'vitest';
import { PlanDocument } from '../../app/document/plan-document.ts';
import { readPlanGeoJson } from '../../geo/formats/project/read-plan-geojson.ts';
import { readSettingsJson, writeSettingsJson } from '../../geo/formats/project/settings-json.ts';
import { settlePlan } from '../../geo/formats/project/settle-plan.ts';
import { writePlanGeoJson } from '../../geo/formats/project/write-plan-geojson.ts';
import { canonicalJson } from '../../geo/plan/canonical-json.ts';
import type { RawPlan } from '../../geo/plan/raw-plan.ts';
import { migratePlan } from '../../geo/plan/migrations/migrate.ts';
import { anyChange, apply, stand } from '../document-rig.ts';
import { valueOf } from '../geotiff-samples.ts';

const seed = 20260802;

/** The two files of a project that hold the plan, as they would be saved now. */
function files(document: PlanDocument): { plan: string; settings: string } {
  const raw = document.raw();
  return { plan: writePlanGeoJson(raw), settings: writeSettingsJson(raw, {}) };
}

it('200 edits undone wholly restore the first plan.geojson and settings.json; redone, the last', () => {
  fc.assert(
    fc.property(fc.array(anyChange, { minLength: 200, maxLength: 200 }), (changes) => {
      const document = new PlanDocument(1);
      document.seed({ features: { a: stand('a', 'at first') }, settings: { siteName: 'Bench' } });
      const first = files(document);
      for (const change of changes) apply(document, change);
      const last = files(document);
      while (document.undo());
      expect(files(document)).toEqual(first);
      while (document.redo());
      expect(files(document)).toEqual(last);
    }),
    { seed, numRuns: 15 },
  );
});

it('with a second tab editing between, its edits stay in both files', () => {
  const turn = fc.record({ isOther: fc.boolean(), change: anyChange });
  fc.assert(
    fc.property(fc.array(turn, { minLength: 200, maxLength: 200 }), (turns) => {
      const [own, other] = [new PlanDocument(1), new PlanDocument(2)];
      own.doc.on('update', (bytes, from) => from !== 'x' && Y.applyUpdate(other.doc, bytes, 'x'));
      other.doc.on('update', (bytes, from) => from !== 'x' && Y.applyUpdate(own.doc, bytes, 'x'));
      own.seed({ features: { a: stand('a', 'at first') }, settings: { siteName: 'Bench' } });
      // A third document that knows nothing but the first plan and the other tab's edits.
      const expected = new PlanDocument(3);
      expected.load(own.raw());
      for (const { isOther, change } of turns) {
        const before = other.raw();
        apply(isOther ? other : own, change);
        if (isOther) expected.load(withEdit(expected.raw(), before, other.raw()));
      }
      while (own.undo());
      expect(files(own)).toEqual(files(other));
      expect(files(own)).toEqual(files(expected));
    }),
    { seed, numRuns: 15 },
  );
});

/** A plan with whatever an edit changed from `before` to `after`. */
function withEdit(plan: RawPlan, before: RawPlan, after: RawPlan): RawPlan {
  const next: Record<string, Record<string, unknown>> = {};
  for (const map of Object.keys(plan) as (keyof RawPlan)[]) {
    next[map] = { ...plan[map] };
    for (const key of new Set([...Object.keys(before[map]), ...Object.keys(after[map])])) {
      const [was, is] = [before[map][key], after[map][key]];
      if (was !== undefined && is !== undefined && canonicalJson(was) === canonicalJson(is))
        continue;
      if (is === undefined) delete next[map][key];
      else next[map][key] = is;
    }
  }
  return next as unknown as RawPlan;
}

it('any plan, and anything else that lies in a document, comes back from its two files', () => {
  const coordinate = fc.integer({ min: -900, max: 900 }).map((n) => n / 10);
  const position = fc.tuple(coordinate, coordinate);
  const ring = fc
    .array(position, { minLength: 3, maxLength: 7 })
    .map((corners) => [...corners, corners[0]!]);
  const geometry = fc.oneof(
    position.map((coordinates) => ({ type: 'Point', coordinates })),
    fc
      .array(position, { minLength: 2, maxLength: 6 })
      .map((coordinates) => ({ type: 'LineString', coordinates })),
    fc
      .array(ring, { minLength: 1, maxLength: 3 })
      .map((coordinates) => ({ type: 'Polygon', coordinates })),
  );
  const name = fc.constantFrom('a', 'text', 'reason', 'kind', 'name', 'id', 'seat', '');
  const feature = fc.record({
    kind: fc.constantFrom('plot', 'note', 'no-go', 'structure', 'fire-tower'),
    name: fc.string({ maxLength: 12 }),
    geometry,
    properties: fc.dictionary(name, fc.oneof(fc.string(), fc.integer(), fc.boolean())),
    locked: fc.boolean(),
    hidden: fc.boolean(),
  });
  const strange = fc.oneof(
    fc.integer(),
    fc.string(),
    fc.constant(null),
    fc.record({ a: fc.integer() }),
  );
  const id = fc.stringMatching(/^[A-Za-z0-9_-]{1,6}$/);
  const plan = fc.record({
    features: fc.dictionary(
      id,
      fc.oneof({ weight: 5, arbitrary: feature }, { weight: 1, arbitrary: strange }),
    ),
    settings: fc.dictionary(
      fc.constantFrom('siteName', 'units', 'roof'),
      fc.oneof(fc.string(), fc.integer()),
    ),
    conditions: fc.dictionary(fc.constantFrom('hourUtc', 'tide'), fc.string()),
    grounds: fc.dictionary(id, strange),
    photos: fc.constant({}),
  });
  fc.assert(
    fc.property(plan, (given) => {
      const features = Object.fromEntries(
        Object.entries(given.features).map(([key, value]) => [
          key,
          typeof value === 'object' && value !== null && 'kind' in value
            ? { ...value, id: key }
            : value,
        ]),
      );
      const { plan: raw } = settlePlan({ ...given, features, extras: {} });
      const read = valueOf(readSettingsJson(writeSettingsJson(raw, {})));
      const drawn = valueOf(readPlanGeoJson(writePlanGeoJson(raw)));
      const back = {
        ...read.plan,
        features: { ...read.plan.features, ...drawn.features },
        extras: {},
      };
      const again = settlePlan(migratePlan(back, read.version)).plan;
      expect(writePlanGeoJson(again)).toBe(writePlanGeoJson(raw));
      const withoutTurns = (text: string) => {
        const { turnedRings: _, ...rest } = JSON.parse(text) as Record<string, unknown>;
        return canonicalJson(rest);
      };
      expect(withoutTurns(writeSettingsJson(again, {}))).toBe(
        withoutTurns(writeSettingsJson(raw, {})),
      );
      expect(again.extras).toEqual(raw.extras);
    }),
    { seed, numRuns: 400 },
  );
});
