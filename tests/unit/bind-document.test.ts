import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { PlanDocument } from '../../app/document/plan-document.ts';
import type { PlanWatcher } from '../../app/document/start.ts';
import { bindDocument } from '../../app/store/bind-document.ts';
import { commitDraft, setDraft } from '../../app/store/draft.ts';
import { openPlan } from '../../app/store/open-plan.ts';
import { session } from '../../app/store/session.ts';
import { apply, stand } from '../document-rig.ts';

const first = session.getState();
let plan: PlanDocument;
let watcher: PlanWatcher;
let unbind: () => void;

beforeEach(() => {
  session.setState(first, true);
  plan = new PlanDocument(1);
  apply(plan, { features: { a: stand('a'), b: stand('b') } });
  unbind = bindDocument({
    document: plan,
    watch: (given) => {
      watcher = given;
      return () => {};
    },
  });
});
afterEach(() => unbind());

describe('bindDocument', () => {
  it('shows the plan as it is and as it becomes', () => {
    expect(Object.keys(session.getState().features)).toEqual(['a', 'b']);
    expect(session.getState()).toMatchObject({ canUndo: true, canRedo: false });
    apply(plan, { settings: { units: 'metric' } });
    plan.setConditions({ wind: { fromDegrees: null, speedMetersPerSecond: 0 } });
    plan.undo();
    expect(session.getState()).toMatchObject({ canUndo: true, canRedo: true });
    expect(session.getState().settings.units).toBe('us');
    expect(session.getState().conditions.wind.fromDegrees).toBeNull();
  });

  it('leaves alone by identity what has not changed', () => {
    const before = session.getState();
    apply(plan, { features: { a: stand('a', 'moved') } });
    const after = session.getState();
    expect(after.features.b).toBe(before.features.b);
    for (const part of ['settings', 'conditions', 'grounds', 'photos', 'answers'] as const) {
      expect(after[part]).toBe(before[part]);
    }
  });

  it('passes on how saving goes and what went wrong', () => {
    watcher.save({ state: 'saved', at: 9 });
    expect(session.getState().saved).toEqual({ state: 'saved', at: 9 });
    watcher.problem({ code: 'x', what: 'w', wayOut: 'o' });
    expect(session.getState().problem?.code).toBe('x');
  });

  it('drops the selection with its feature, not with another', () => {
    session.setState({ selectedId: 'a' });
    apply(plan, { features: { b: null } });
    expect(session.getState().selectedId).toBe('a');
    apply(plan, { features: { a: null } });
    expect(session.getState().selectedId).toBeNull();
  });

  it('says once that a part was held aside', () => {
    const other = new Y.Doc();
    other.getMap('features').set('x', { id: 'x', kind: 'orchard' });
    Y.applyUpdate(plan.doc, Y.encodeStateAsUpdate(other));
    expect(session.getState().problem).toMatchObject({
      code: 'plan-part-held-aside',
      where: 'features/x',
    });
    session.setState({ problem: null });
    apply(plan, { features: { c: stand('c') } });
    expect(session.getState().problem).toBeNull();
  });

  it('stops when asked', () => {
    unbind();
    apply(plan, { features: { c: stand('c') } });
    expect(Object.keys(session.getState().features)).toEqual(['a', 'b']);
    expect(() => openPlan()).toThrow(RangeError);
  });
});

describe('a draft', () => {
  it('stays out of the plan until the gesture ends, and is then one undo step', () => {
    for (let i = 0; i < 20; i++) setDraft(stand('a', 'a', -84 - i / 1000));
    expect(session.getState().features.a).toEqual(stand('a'));
    expect(commitDraft()).toEqual({ ok: true, value: true });
    expect(session.getState().draft).toBeNull();
    expect(session.getState().features.a!.geometry.coordinates[0]).toBe(-84.019);
    plan.undo();
    expect(session.getState().features.a).toEqual(stand('a'));
  });

  it('that ends where it began is no step', () => {
    setDraft(stand('a'));
    expect(commitDraft()).toEqual({ ok: true, value: false });
    expect(commitDraft()).toEqual({ ok: true, value: false });
    plan.undo();
    expect(session.getState().features).toEqual({});
  });

  it('that does not fit stays a draft and says why', () => {
    setDraft({ ...stand('a'), name: 'x'.repeat(201) });
    expect(commitDraft()).toMatchObject({ ok: false, problem: { code: 'feature-invalid' } });
    expect(session.getState().draft?.id).toBe('a');
    expect(session.getState().problem?.code).toBe('feature-invalid');
    expect(session.getState().features.a).toEqual(stand('a'));
  });
});
