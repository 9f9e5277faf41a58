import { readFileSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { answer, databaseName, openDatabase } from '../../app/document/database.ts';
import {
  keepDeletedMilliseconds,
  listProjects,
  markProject,
  sweepProjects,
} from '../../app/document/project-list.ts';
import { RasterStore } from '../../app/document/raster-store.ts';
import { openDocument, type OpenPlan } from '../../app/document/start.ts';
import { appendUpdate, type PlanRow } from '../../app/document/update-log.ts';
import { readPlanGeoJson } from '../../geo/formats/project/read-plan-geojson.ts';
import { readSettingsJson } from '../../geo/formats/project/settings-json.ts';
import { schemaVersion } from '../../geo/plan/migrations/migrate.ts';
import { apply, canonical, ground, settle, stand, TestBrowser } from '../document-rig.ts';
import { valueOf } from '../geotiff-samples.ts';

const open: OpenPlan[] = [];
afterEach(async () => {
  await Promise.all(open.splice(0).map((plan) => plan.close()));
});

async function openPlan(browser: TestBrowser, id: string) {
  const plan = await openDocument(id, browser.host());
  open.push(plan);
  return plan;
}

async function draw(browser: TestBrowser, id: string, name: string, groundId?: string) {
  const plan = await openPlan(browser, id);
  const grounds = groundId === undefined ? {} : { [groundId]: ground(groundId) };
  apply(plan.document, { features: { a: stand('a') }, settings: { siteName: name }, grounds });
  await plan.provider.flush();
  await plan.close();
}

const names = async (browser: TestBrowser) =>
  valueOf(await listProjects(browser.host())).map((one) => [one.name, one.deletedAt !== null]);

describe('the list of projects', () => {
  it('says of each what it holds, what it takes and what it shares', async () => {
    const browser = new TestBrowser();
    const store = new RasterStore(browser.indexedDB, () => browser.now);
    const meta = { kind: 'ground', format: 'float32', width: 2, height: 2 } as const;
    const shared = valueOf(await store.put(new Uint8Array(1000), meta));
    const own = valueOf(await store.put(new Uint8Array(300).fill(1), meta));
    store.close();
    await draw(browser, 'north', 'North', shared);
    browser.now += 1000;
    await draw(browser, 'south', 'South', shared);
    const south = await openPlan(browser, 'south');
    apply(south.document, { grounds: { [own]: ground(own) } });
    await south.close();
    const list = valueOf(await listProjects(browser.host()));
    expect(list).toMatchObject([
      { id: 'south', featureCount: 1, rasterBytes: 1300, sharedRasterBytes: 1000 },
      { id: 'north', featureCount: 1, rasterBytes: 1000, sharedRasterBytes: 1000 },
    ]);
    expect(list.every((one) => one.planBytes > 50)).toBe(true);
    await markProject('north', { openedAt: 5 }, browser.host());
    await markProject('north', { copiedAt: 6, copiedEdits: 1 }, browser.host());
    expect(valueOf(await listProjects(browser.host()))[1]).toMatchObject({
      openedAt: 5,
      copiedAt: 6,
      copiedEdits: 1,
    });
  });

  it('counts gestures, not the filling of a new plan, across tabs and tidying', async () => {
    const browser = new TestBrowser();
    const first = await openPlan(browser, 'plan');
    first.document.seed({ features: { z: stand('z') } });
    first.document.setConditions({ hourUtc: '2026-10-01T11:00:00Z' });
    const second = await openPlan(browser, 'plan');
    for (let i = 0; i < 3; i++) apply(first.document, { features: { a: stand('a', `n${i}`) } });
    second.document.undo();
    apply(second.document, { features: { b: stand('b') } });
    await settle();
    first.document.undo();
    await first.close();
    await second.close();
    expect((await openPlan(browser, 'plan')).provider.edits).toBe(5);
  });

  it('takes a deleted project back, by hand or because another tab draws on', async () => {
    const browser = new TestBrowser();
    await draw(browser, 'plan', 'Bench');
    const other = await openPlan(browser, 'plan');
    browser.now += 10;
    await markProject('plan', { deletedAt: browser.now }, browser.host());
    expect(await names(browser)).toEqual([['Bench', true]]);
    await markProject('plan', { deletedAt: undefined }, browser.host());
    expect(await names(browser)).toEqual([['Bench', false]]);
    await markProject('plan', { deletedAt: browser.now }, browser.host());
    browser.now += 10;
    apply(other.document, { features: { b: stand('b') } });
    await other.provider.flush();
    expect(await names(browser)).toEqual([['Bench', false]]);
  });

  it('sweeps what was deleted long ago with its rasters, and nothing else', async () => {
    const browser = new TestBrowser();
    const store = new RasterStore(browser.indexedDB, () => browser.now);
    const meta = { kind: 'ground', format: 'float32', width: 2, height: 2 } as const;
    const [shared, gone] = [
      valueOf(await store.put(new Uint8Array(100), meta)),
      valueOf(await store.put(new Uint8Array(100).fill(1), meta)),
    ];
    await draw(browser, 'kept', 'Kept', shared);
    await draw(browser, 'gone', 'Gone', gone);
    await draw(browser, 'open', 'Open', gone);
    for (const id of ['gone', 'open']) {
      await markProject(id, { deletedAt: browser.now }, browser.host());
    }
    browser.now += keepDeletedMilliseconds - 1;
    expect(valueOf(await sweepProjects([], [], browser.host()))).toEqual({
      projects: 0,
      rasters: 0,
    });
    browser.now += 1;
    expect(valueOf(await sweepProjects(['open'], [gone], browser.host()))).toEqual({
      projects: 1,
      rasters: 0,
    });
    expect(await names(browser)).toEqual([
      ['Kept', false],
      ['Open', true],
    ]);
    expect(valueOf(await sweepProjects([], [], browser.host()))).toEqual({
      projects: 1,
      rasters: 1,
    });
    expect(valueOf(await store.list()).map((raster) => raster.id)).toEqual([shared]);
    expect((await openPlan(browser, 'gone')).document.snapshot.features).toEqual({});
    store.close();
  });

  it('says why there is none where the browser keeps nothing', async () => {
    const host = new TestBrowser().host({ indexedDB: undefined });
    expect(await listProjects(host)).toMatchObject({ problem: { code: 'storage-unavailable' } });
  });
});

describe('older and newer plans in this browser', () => {
  /** As version 0 left it: raw values in the document, a row that says no version. */
  async function storeVersion0(browser: TestBrowser, row: Partial<PlanRow> = {}): Promise<void> {
    const text = (path: string) => readFileSync(`fixtures/projects/version-0/${path}`, 'utf8');
    const doc = new Y.Doc();
    const { features } = valueOf(readPlanGeoJson(text('plan.geojson')));
    const { plan } = valueOf(readSettingsJson(text('settings.json')));
    for (const [name, values] of Object.entries({ ...plan, features })) {
      for (const [key, value] of Object.entries(values)) doc.getMap(name).set(key, value);
    }
    const opened = await openDatabase(browser.indexedDB, () => {});
    const db = valueOf(opened);
    const plans = { id: 'plan', name: 'Kite hollow', savedAt: 1, rasterIds: [], ...row };
    await appendUpdate(db, plans, Y.encodeStateAsUpdate(doc), 0);
    db.close();
  }

  it('brings a stored plan of version 0 up to date once, for all tabs, and that is no undo step', async () => {
    const browser = new TestBrowser();
    await storeVersion0(browser);
    const first = await openPlan(browser, 'plan');
    const second = await openPlan(browser, 'plan');
    await settle();
    for (const { document } of [first, second]) {
      expect(document.snapshot.heldAside).toEqual([]);
      expect(document.snapshot.features['berm-1']?.properties).toMatchObject({
        baseWidthMeters: 9,
      });
      expect(document.snapshot.features['pile-1']?.kind).toBe('heap');
      expect(document.snapshot.settings).toMatchObject({ siteName: 'Kite hollow', units: 'us' });
      expect(document.snapshot.conditions.wind.fromDegrees).toBe(270);
      expect(document.canUndo).toBe(false);
    }
    expect(canonical(second.document.snapshot)).toBe(canonical(first.document.snapshot));
    const db = valueOf(await openDatabase(browser.indexedDB, () => {}));
    const plans = db.transaction('plans').objectStore('plans');
    expect(await answer<PlanRow>(plans.get('plan'))).toMatchObject({ schemaVersion });
    db.close();
    const again = await openPlan(browser, 'plan');
    expect(again.provider.edits).toBe(0);
    expect(again.document.snapshot.settings.siteName).toBe('Kite hollow');
  });

  it('neither shows nor touches a plan of a newer version', async () => {
    const browser = new TestBrowser();
    await storeVersion0(browser, { schemaVersion: schemaVersion + 1 });
    const plan = await openPlan(browser, 'plan');
    expect(plan.provider.loaded).toBe(false);
    expect(plan.provider.save).toMatchObject({ state: 'failed', problem: { code: 'plan-newer' } });
    apply(plan.document, { features: { a: stand('a') } });
    expect(await plan.provider.flush()).toBe(false);
    const db = valueOf(await openDatabase(browser.indexedDB, () => {}));
    expect(await answer(db.transaction('updates').objectStore('updates').count())).toBe(1);
    db.close();
  });

  it('finds all that a database of version 1 holds', async () => {
    const browser = new TestBrowser();
    // The stores as database version 1 had them.
    const db = await new Promise<IDBDatabase>((resolve) => {
      const request = browser.indexedDB.open(databaseName, 1);
      request.onupgradeneeded = () => {
        request.result.createObjectStore('plans', { keyPath: 'id' });
        const updates = request.result.createObjectStore('updates', { autoIncrement: true });
        updates.createIndex('planId', 'planId');
        request.result.createObjectStore('rasters', { keyPath: 'id' });
        request.result.createObjectStore('raster-parts');
      };
      request.onsuccess = () => resolve(request.result);
    });
    const doc = new Y.Doc();
    doc.getMap('features').set('a', stand('a'));
    const row = { id: 'plan', name: 'Bench', savedAt: 1, rasterIds: [] };
    await appendUpdate(db, row, Y.encodeStateAsUpdate(doc), 0);
    db.close();
    const plan = await openPlan(browser, 'plan');
    expect(plan.document.snapshot.features).toEqual({ a: stand('a') });
    expect(await names(browser)).toEqual([['Bench', false]]);
  });
});
