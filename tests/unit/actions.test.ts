import { describe, expect, it } from 'vitest';
import { actionForKey, keyWords, type KeyPress } from '../../app/actions/keys.ts';
import { actionNamed, actions } from '../../app/actions/registry.ts';
import type { Services } from '../../app/page/services.ts';
import { session, type Session } from '../../app/store/session.ts';
import { parseFeature, type PlanFeature } from '../../geo/plan/feature.ts';

const parsed = parseFeature({
  id: 'a',
  kind: 'stand',
  name: 'A1',
  geometry: { type: 'Point', coordinates: [-75, 36] },
});
if (!parsed.ok) throw new Error(parsed.problem.what);
const stand: PlanFeature = parsed.value;

function state(change: Partial<Session>): Session {
  return { ...session.getInitialState(), ...change };
}

function press(key: string, held: Partial<KeyPress> = {}): KeyPress {
  return { key, ctrlKey: false, metaKey: false, shiftKey: false, altKey: false, ...held };
}

/** Services that only write down what was asked of them. */
function recorder(): { services: Services; asked: unknown[][] } {
  const asked: unknown[][] = [];
  const services = new Proxy({} as Services, {
    get:
      (_, name) =>
      (...args: unknown[]) => {
        asked.push([name, ...args]);
      },
  });
  return { services, asked };
}

function performed(name: string, now: Session): unknown[][] {
  const { services, asked } = recorder();
  actionNamed(name).perform(services, now);
  return asked;
}

describe('the registry', () => {
  it('has no two actions of one name, and no key with two meanings at once', () => {
    expect(new Set(actions.map((a) => a.name)).size).toBe(actions.length);
    const keys = actions.flatMap((a) => a.keys);
    expect(new Set(keys).size).toBe(keys.length);
  });
  it('throws for a name that it does not hold', () => {
    expect(() => actionNamed('fly')).toThrow(RangeError);
  });
});

describe('undo', () => {
  it('is off with nothing to undo', () => {
    expect(actionNamed('undo').enabled(state({}))).toBe(false);
  });
  it('undoes a change, but takes back a corner while drawing', () => {
    expect(performed('undo', state({ canUndo: true }))).toEqual([['undo']]);
    expect(performed('undo', state({ canUndo: true, drawing: 'plot' }))).toEqual([
      ['dropLastCorner'],
    ]);
  });
});

describe('keys', () => {
  it.each([
    [press('z', { ctrlKey: true }), 'undo'],
    [press('z', { metaKey: true }), 'undo'],
    [press('Z', { ctrlKey: true, shiftKey: true }), 'redo'],
    [press('y', { ctrlKey: true }), 'redo'],
    [press('p'), 'draw-plot'],
    [press('b'), 'draw-berm'],
    [press('s'), 'draw-stand'],
    [press('1'), 'view-plan'],
  ])('%j', (key, name) => {
    expect(actionForKey(key, state({ canUndo: true, canRedo: true }))?.name).toBe(name);
  });
  it('leaves the browser its own combinations', () => {
    const now = state({ selectedId: 'a', features: { a: stand } });
    for (const key of ['p', 's', 'f', 'e', '1']) {
      expect(actionForKey(press(key, { ctrlKey: true }), now)).toBeNull();
      expect(actionForKey(press(key, { altKey: true }), now)).toBeNull();
    }
  });
  it('finishes and cancels only while a shape is in hand', () => {
    const idle = state({});
    expect(actionForKey(press('Enter'), idle)).toBeNull();
    expect(actionForKey(press('Escape'), idle)).toBeNull();
    const drawing = state({ drawing: 'plot' });
    expect(actionForKey(press('Enter'), drawing)?.name).toBe('finish');
    expect(performed('cancel', drawing)).toEqual([['cancelDrawing']]);
    expect(performed('cancel', state({ selectedId: 'a', features: { a: stand } }))).toEqual([
      ['select', null],
    ]);
  });
  it('deletes what is selected, unless it is locked or being shaped', () => {
    const now = state({ selectedId: 'a', features: { a: stand } });
    expect(actionForKey(press('Delete'), now)?.name).toBe('delete');
    expect(performed('delete', now)).toEqual([['deleteFeature', 'a']]);
    const locked = state({ selectedId: 'a', features: { a: { ...stand, locked: true } } });
    expect(actionForKey(press('Delete'), locked)).toBeNull();
    expect(actionForKey(press('Backspace'), { ...now, editingId: 'a' })).toBeNull();
  });
  it('takes no letter or digit of a run that is typed while drawing', () => {
    const drawing = state({
      drawing: 'plot',
      drawingAs: 'Polygon',
      features: { a: stand },
      selectedId: 'a',
    });
    for (const key of '0123456789abcdefghijklmnopqrstuvwxyzNEWS°@-.,') {
      expect(actionForKey(press(key), drawing), key).toBeNull();
    }
    expect(actionForKey(press(' '), drawing)?.name).toBe('place-point');
    expect(actionForKey(press('f'), state({ features: { a: stand } }))?.name).toBe('fit');
    // A shape that is only edited has its corners stepped by these.
    expect(actionForKey(press('.'), state({ editingId: 'a' }))?.name).toBe('next-corner');
  });
});

describe('several at once', () => {
  const area = (id: string, more: object = {}): PlanFeature => {
    const ring = [
      [-75, 36],
      [-74.999, 36],
      [-74.999, 36.001],
      [-75, 36],
    ];
    const geometry = { type: 'Polygon', coordinates: [ring] };
    const made = parseFeature({ id, kind: 'plot', name: id, geometry, ...more });
    if (!made.ok) throw new Error(made.problem.what);
    return made.value;
  };
  const both = (more: object = {}): Session =>
    state({
      features: { p: area('p'), q: area('q', more), a: stand },
      selectedId: 'p',
      alsoSelected: ['q'],
    });
  const enabled = (name: string, now: Session) => actionNamed(name).enabled(now);

  it('are deleted together, and only one can have its shape edited', () => {
    expect(performed('delete', both())).toEqual([['deleteFeatures', ['p', 'q']]]);
    expect(enabled('edit-shape', both())).toBe(false);
    expect(enabled('duplicate', both())).toBe(false);
    expect(enabled('split', both())).toBe(false);
    expect(enabled('split', { ...both(), alsoSelected: [] })).toBe(true);
  });
  it('merge where they are areas of one kind, none locked', () => {
    expect(enabled('merge', both())).toBe(true);
    expect(enabled('merge', both({ locked: true }))).toBe(false);
    expect(enabled('merge', both({ kind: 'clearing' }))).toBe(false);
    expect(enabled('merge', { ...both(), alsoSelected: ['a'] })).toBe(false);
    expect(enabled('merge', { ...both(), alsoSelected: [] })).toBe(false);
  });
  it('lock all unless all are locked already', () => {
    expect(performed('lock', both({ locked: true }))).toEqual([['setLocked', ['p', 'q'], true]]);
    const locked = { ...both(), features: { p: area('p', { locked: true }) }, alsoSelected: [] };
    expect(performed('lock', locked)).toEqual([['setLocked', ['p'], false]]);
    expect(performed('hide', both())).toEqual([['setHidden', ['p', 'q'], true]]);
  });
  it('Escape leaves what was begun last first', () => {
    const trial = { features: {}, sizes: {}, of: {}, selectAfter: null, problem: null };
    const helper = { type: 'LineString', title: '', how: '' } as const;
    const now = { ...both(), trial, selectingSeveral: true };
    expect(performed('cancel', { ...now, helper })).toEqual([['cancelDrawing']]);
    expect(performed('cancel', now)).toEqual([['dropTrial']]);
    expect(performed('cancel', { ...now, trial: null })).toEqual([['select', null]]);
    const none = { ...now, trial: null, selectedId: null, alsoSelected: [] };
    expect(performed('cancel', none)).toEqual([['selectSeveral', false]]);
  });
  it('undo takes back the last corner of a cutting line', () => {
    const helper = { type: 'LineString', title: '', how: '' } as const;
    expect(performed('undo', { ...both(), helper })).toEqual([['dropLastCorner']]);
  });
});

it('offers a view only where there is something to show', () => {
  const enabled = (name: string, now: Session) => actionNamed(name).enabled(now);
  const empty = state({});
  expect(enabled('view-plan', empty)).toBe(true);
  expect(enabled('view-slope', empty)).toBe(false);
  const ground = state({ settings: { ...empty.settings, groundId: 'a'.repeat(64) } });
  expect(enabled('view-slope', ground)).toBe(true);
  expect(enabled('view-photo', ground)).toBe(false);
});

it('writes keys as the machine does', () => {
  expect(keyWords('mod+shift+z', false)).toBe('Ctrl+Shift+Z');
  expect(keyWords('mod+z', true)).toBe('⌘Z');
  expect(keyWords('escape', false)).toBe('Escape');
});
