import { afterEach, describe, expect, it } from 'vitest';
import { doableActions, findActions } from '../../app/actions/find-actions.ts';
import { actionForKey, shownKey } from '../../app/actions/keys.ts';
import { actionNamed, actions } from '../../app/actions/registry.ts';
import { handsServices } from '../../app/services/hands-service.ts';
import { session, type Session } from '../../app/store/session.ts';

/** The list of actions: what is in it, how it is found, and shortcuts of one letter switched off. */

const empty = session.getInitialState();
const names = (found: readonly { name: string }[]) => found.map(({ name }) => name);
const find = (text: string, state: Session = empty) =>
  names(findActions(doableActions(state), text));

afterEach(() => session.setState(empty, true));

describe('the list of actions', () => {
  it('holds what can be done now and nothing else, and never itself', () => {
    expect(names(doableActions(empty))).toEqual(
      names(actions.filter((action) => action.name !== 'palette' && action.enabled(empty))),
    );
    expect(find('')).not.toContain('undo');
    expect(find('', { ...empty, canUndo: true })).toContain('undo');
    expect(find('', { ...empty, drawing: 'plot' })).toContain('finish');
    expect(find('', { ...empty, drawing: 'plot' })).not.toContain('draw-berm');
  });
  it('offers the same while it is in front of the page', () => {
    expect(doableActions({ ...empty, desk: 'palette' })).toEqual(doableActions(empty));
  });
});

describe('finding', () => {
  it('puts names that begin so before those with a word that does, before those that hold it', () => {
    expect(find('dr')[0]).toMatch(/^draw-/);
    expect(find('berm')).toContain('draw-berm');
    // "Plan" begins so; "Draw food plot" has a word that does.
    const found = find('pl');
    expect(found.indexOf('view-plan')).toBeLessThan(found.indexOf('draw-plot'));
    expect(find('erm')).toContain('draw-berm');
  });
  it('wants every word, in any order and case', () => {
    expect(find('  BERM draw ')).toEqual(['draw-berm']);
    expect(find('berm undo')).toEqual([]);
  });
  it('finds by the key as it is written', () => {
    expect(find('ctrl+z', { ...empty, canUndo: true })).toEqual(['undo']);
    expect(find('b')[0]).toBe('draw-berm');
  });
});

describe('letters as shortcuts', () => {
  const press = (key: string, ctrlKey = false) => ({
    key,
    ctrlKey,
    metaKey: false,
    shiftKey: false,
    altKey: false,
  });
  /** Storage as a browser has it, or as one that keeps nothing. */
  const storageOf = (kept: Map<string, string>) =>
    ({
      getItem: (key: string) => kept.get(key) ?? null,
      setItem: (key: string, value: string) => void kept.set(key, value),
    }) as Storage;
  const forbidden = () => {
    throw new DOMException('not allowed', 'SecurityError');
  };

  it('do nothing once they are switched off; keys held with Ctrl, Enter and Escape still do', () => {
    const off = { ...empty, letterKeys: false, canUndo: true };
    for (const key of ['p', 'b', '1', 'f']) expect(actionForKey(press(key), off)).toBeNull();
    expect(actionForKey(press('z', true), off)?.name).toBe('undo');
    expect(actionForKey(press('k', true), off)?.name).toBe('palette');
    const drawing: Session = { ...off, drawing: 'plot' };
    expect(actionForKey(press('Enter'), drawing)?.name).toBe('finish');
    expect(actionForKey(press('Escape'), drawing)?.name).toBe('cancel');
  });
  it('are not told of either then', () => {
    expect(shownKey(actionNamed('draw-berm'), true)).toBe('b');
    expect(shownKey(actionNamed('draw-berm'), false)).toBeUndefined();
    expect(shownKey(actionNamed('undo'), false)).toBe('mod+z');
  });
  it('stay off in this browser', () => {
    const kept = new Map<string, string>();
    handsServices(() => storageOf(kept)).setLetterKeys(false);
    expect(session.getState().letterKeys).toBe(false);
    session.setState({ letterKeys: true });
    handsServices(() => storageOf(kept));
    expect(session.getState().letterKeys).toBe(false);
  });
  it('can be switched where nothing can be kept', () => {
    const hands = handsServices(forbidden);
    expect(session.getState().letterKeys).toBe(true);
    hands.setLetterKeys(false);
    expect(session.getState().letterKeys).toBe(false);
  });
});

it('opens and leaves the list, and leaves nothing else that stands in front', () => {
  const hands = handsServices(() => ({ getItem: () => null }) as unknown as Storage);
  hands.openPalette();
  expect(session.getState().desk).toBe('palette');
  hands.leavePalette();
  expect(session.getState().desk).toBeNull();
  session.setState({ desk: 'table' });
  hands.leavePalette();
  expect(session.getState().desk).toBe('table');
});
