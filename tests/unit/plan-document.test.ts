import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { PlanDocument } from '../../app/document/plan-document.ts';
import { UndoSteps } from '../../app/document/undo-steps.ts';
import { isSameMachine, keptMachine, machineInUse } from '../../geo/plan/machine.ts';
import { defaultSettings, parseSetting } from '../../geo/plan/settings.ts';
import { apply, canonical, ground, stand } from '../document-rig.ts';

/** Sends everything both ways, as two tabs do. */
function sync(a: Y.Doc, b: Y.Doc): void {
  Y.applyUpdate(a, Y.encodeStateAsUpdate(b, Y.encodeStateVector(a)), 'tab');
  Y.applyUpdate(b, Y.encodeStateAsUpdate(a, Y.encodeStateVector(b)), 'tab');
}

describe('transact', () => {
  it('takes all of a change or nothing', () => {
    const plan = new PlanDocument(1);
    const before = canonical(plan.snapshot);
    const done = plan.transact({
      features: { a: stand('a'), b: { ...stand('b'), kind: 'tower' } as never },
      settings: { siteName: 'North bench' },
    });
    expect(done).toMatchObject({ ok: false, problem: { code: 'feature-invalid', where: 'b' } });
    expect(canonical(plan.snapshot)).toBe(before);
    expect(plan.canUndo).toBe(false);
    expect(Y.encodeStateAsUpdate(plan.doc)).toEqual(Y.encodeStateAsUpdate(new Y.Doc()));
  });

  it.each([
    ['an id that is not its key', { features: { a: stand('b') } }],
    ['an unknown setting', { settings: { colour: 'red' } as never }],
    ['a setting out of range', { settings: { listMinDepthMeters: -1 } }],
    ['a ground without its place', { grounds: { x: { id: 'x', name: 'x' } as never } }],
    ['a feature that is not there', { features: { a: undefined as never } }],
  ])('refuses %s', (_, change) => {
    expect(new PlanDocument(1).transact(change).ok).toBe(false);
  });

  it('makes one step of many keys, and none of what is there already', () => {
    const plan = new PlanDocument(1);
    const heard = vi.fn();
    plan.subscribe(heard);
    apply(plan, { features: { a: stand('a'), b: stand('b') }, settings: { units: 'metric' } });
    expect(heard).toHaveBeenCalledTimes(1);
    expect(
      apply(plan, { features: { a: stand('a'), c: null }, settings: { units: 'metric' } }),
    ).toBe(false);
    expect(apply(plan, { settings: { siteName: '' } })).toBe(false);
    expect(heard).toHaveBeenCalledTimes(1);
    expect(plan.undo()).toBe(true);
    expect(plan.snapshot.features).toEqual({});
    expect(plan.snapshot.settings.units).toBe('us');
    expect(plan.undo()).toBe(false);
    expect(plan.canUndo).toBe(false);
  });

  it('keeps machines by name, their log with them, and puts one to use in one step', () => {
    const small = machineInUse(defaultSettings);
    const large = { ...small, dozerPowerWatts: 150_000, loggedClearing: [{ areaSquareMeters: 4046.9, hours: 6 }] }; // prettier-ignore
    const once = keptMachine([], 'small', small);
    const list = [...keptMachine(once, 'large', large)];
    expect(list.map(({ name }) => name)).toEqual(['small', 'large']);
    expect(keptMachine(list, 'small', large)[0]!.figures).toEqual(large);
    expect(isSameMachine(list[1]!.figures, large)).toBe(true);
    expect(isSameMachine(small, large)).toBe(false);
    expect(parseSetting('machines', list)).toEqual({ ok: true, value: list });
    expect(parseSetting('machines', [{ name: '', figures: small }]).ok).toBe(false);
    const plan = new PlanDocument(1);
    expect(plan.transact({ settings: { machines: list, ...list[1]!.figures } }).ok).toBe(true);
    expect(plan.snapshot.settings.dozerPowerWatts).toBe(150_000);
    plan.undo();
    expect(plan.snapshot.settings.machines).toEqual([]);
    expect(plan.snapshot.settings.dozerPowerWatts).toBe(74_570);
  });

  it('rounds and completes what it stores, and keeps what has not changed by identity', () => {
    const plan = new PlanDocument(1);
    apply(plan, { features: { a: stand('a', 'A', -84.12345678949), b: stand('b') } });
    const { features, settings, grounds } = plan.snapshot;
    expect(features.a!.geometry.coordinates[0]).toBe(-84.123456789);
    apply(plan, { features: { a: stand('a', 'moved') } });
    expect(plan.snapshot.features.b).toBe(features.b);
    expect(plan.snapshot.features.a).not.toBe(features.a);
    expect(plan.snapshot.settings).toBe(settings);
    expect(plan.snapshot.grounds).toBe(grounds);
  });

  it('tells its listeners when undo and redo are ready', () => {
    const plan = new PlanDocument(1);
    const seen: [boolean, boolean][] = [];
    plan.subscribe(() => seen.push([plan.canUndo, plan.canRedo]));
    apply(plan, { features: { a: stand('a') } });
    plan.undo();
    plan.redo();
    plan.undo();
    apply(plan, { features: { b: stand('b') } });
    expect(seen).toEqual([
      [true, false],
      [false, true],
      [true, false],
      [false, true],
      [true, false],
    ]);
  });
});

describe('conditions', () => {
  it('are checked, kept and never undone', () => {
    const plan = new PlanDocument(1);
    apply(plan, { features: { a: stand('a') } });
    expect(
      plan.setConditions({ rain: { depthMeters: 0.06, durationHours: 24, soil: 'average' } }).ok,
    ).toBe(true);
    expect(
      plan.setConditions({ rain: { depthMeters: -1, durationHours: 24, soil: 'average' } }).ok,
    ).toBe(false);
    expect(plan.setConditions({ hourUtc: 'noon' }).ok).toBe(false);
    plan.undo();
    expect(plan.snapshot.conditions.rain).toEqual({
      depthMeters: 0.06,
      durationHours: 24,
      soil: 'average',
    });
    expect(plan.canUndo).toBe(false);
  });
});

describe('undo beside another tab', () => {
  function twoTabs(): [PlanDocument, PlanDocument] {
    const a = new PlanDocument(1);
    const b = new PlanDocument(2);
    apply(a, { features: { f: stand('f', 'first'), g: stand('g', 'first') } });
    apply(a, { features: { f: stand('f', 'by A'), g: stand('g', 'by A') } });
    sync(a.doc, b.doc);
    return [a, b];
  }

  it("keeps the other tab's later edit, and takes back the rest of the step", () => {
    const [a, b] = twoTabs();
    apply(b, { features: { f: stand('f', 'by B') } });
    sync(a.doc, b.doc);
    expect(a.undo()).toBe(true);
    expect(a.snapshot.features.f!.name).toBe('by B');
    expect(a.snapshot.features.g!.name).toBe('first');
    sync(a.doc, b.doc);
    expect(canonical(b.snapshot)).toBe(canonical(a.snapshot));
    expect(a.redo()).toBe(true);
    expect(a.snapshot.features.f!.name).toBe('by B');
    expect(a.snapshot.features.g!.name).toBe('by A');
  });

  it("keeps the other tab's later deletion", () => {
    const [a, b] = twoTabs();
    apply(b, { features: { f: null } });
    sync(a.doc, b.doc);
    a.undo();
    expect(a.snapshot.features.f).toBeUndefined();
    expect(a.snapshot.features.g!.name).toBe('first');
    a.undo();
    expect(a.snapshot.features.f).toBeUndefined();
    expect(a.canUndo).toBe(false);
  });

  it('keeps what the other tab has put back to an earlier value of ours', () => {
    const [a, b] = twoTabs();
    apply(b, { features: { f: stand('f', 'first') } });
    sync(a.doc, b.doc);
    a.undo();
    a.undo();
    expect(a.snapshot.features.f!.name).toBe('first');
    expect(a.snapshot.features.g).toBeUndefined();
  });

  it('still takes back an own edit that won against one made at the same time', () => {
    const [a, b] = twoTabs();
    // Both change f before they hear of each other; the higher client id wins (Yjs), here B.
    apply(a, { features: { f: stand('f', 'A at once') } });
    apply(b, { features: { f: stand('f', 'B at once') } });
    sync(a.doc, b.doc);
    expect(a.snapshot.features.f!.name).toBe('B at once');
    expect(b.undo()).toBe(true);
    expect(b.snapshot.features.f!.name).toBe('by A');
    a.undo();
    expect(a.snapshot.features.f!.name).toBe('B at once');
  });

  it('is why the undo manager of Yjs is not used: it brings back what another tab deleted', () => {
    const own = {};
    const [a, b] = [new Y.Doc(), new Y.Doc()];
    const manager = new Y.UndoManager(a.getMap('m'), {
      captureTimeout: 0,
      trackedOrigins: new Set([own]),
    });
    a.transact(() => a.getMap('m').set('f', 1), own);
    a.transact(() => a.getMap('m').set('f', 2), own);
    sync(a, b);
    b.getMap('m').delete('f');
    sync(a, b);
    manager.undo();
    expect(a.getMap('m').get('f')).toBe(1);
  });
});

describe('UndoSteps', () => {
  it('gives a step back turned round, and drops redo at the next gesture', () => {
    const steps = new UndoSteps<'m'>();
    steps.record([{ map: 'm', key: 'k', before: 1, after: 2 }]);
    expect(steps.undo()).toEqual([{ map: 'm', key: 'k', before: 2, after: 1 }]);
    expect(steps.canRedo).toBe(true);
    steps.record([{ map: 'm', key: 'l', before: undefined, after: 2 }]);
    expect(steps.redo()).toBeNull();
  });
});

describe('values that do not fit, from storage or another tab', () => {
  it('are held aside with their problem, not shown, not deleted, and come back when they fit', () => {
    const plan = new PlanDocument(1);
    apply(plan, {
      features: { a: stand('a') },
      grounds: { ['0'.repeat(64)]: ground('0'.repeat(64)) },
    });
    const other = new Y.Doc();
    other.getMap('features').set('x', { id: 'x', kind: 'orchard' });
    other.getMap('features').set('y', 'rubbish');
    other.getMap('features').set('z', stand('other'));
    other.getMap('settings').set('units', 'furlongs');
    other.getMap('settings').set('later', 1);
    other.getMap('conditions').set('wind', { fromDegrees: 'north' });
    sync(plan.doc, other);
    expect(Object.keys(plan.snapshot.features)).toEqual(['a']);
    expect(plan.snapshot.settings.units).toBe('us');
    expect(plan.snapshot.conditions.wind.fromDegrees).toBe(315);
    expect(plan.snapshot.heldAside.map((held) => `${held.map}/${held.key}`).sort()).toEqual([
      'conditions/wind',
      'features/x',
      'features/y',
      'features/z',
      'settings/later',
      'settings/units',
    ]);
    expect(plan.snapshot.heldAside[0]!.problem.wayOut).not.toBe('');
    expect(plan.doc.getMap('features').get('y')).toBe('rubbish');

    other.getMap('features').set('x', stand('x'));
    sync(plan.doc, other);
    expect(plan.snapshot.features.x!.name).toBe('x');
    expect(plan.snapshot.heldAside).toHaveLength(5);
  });
});
