import type { Services } from '../page/services.ts';
import type { Session } from '../store/session.ts';
import { handActions } from './draw-actions.ts';
import { actions, type Action } from './registry.ts';
import { isDrawing } from './shaping.ts';

/** The part of a key press that chooses an action. */
export interface KeyPress {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

/**
 * The action that a key press means now, or null: disabled actions do not take keys. While points
 * are set, letters and digits are numbers being typed ("200 ft N45E") and never shortcuts.
 */
export function actionForKey(press: KeyPress, state: Session): Action | null {
  if (press.altKey) return null;
  const mod = press.ctrlKey || press.metaKey;
  if (!mod && !state.letterKeys && isLetterKey(press.key)) return null;
  const written = [mod ? 'mod' : '', press.shiftKey && mod ? 'shift' : '', press.key.toLowerCase()]
    .filter(Boolean)
    .join('+');
  const among = !mod && isLetterKey(press.key) && isDrawing(state) ? handActions : actions;
  return among.find((a) => a.keys.includes(written) && a.enabled(state)) ?? null;
}

const typed = 'input:not([type=range], [type=checkbox], [type=radio]), textarea, dialog[open] *';
const worked = 'input, select, [role=menu]';

/** Whether keys pressed there are being written, or belong to an open dialog. */
export function isTypedIn(target: EventTarget | null): boolean {
  return target instanceof Element && target.matches(typed);
}

/**
 * Keys belong to a field while it is typed in and to a dialog while one is open; sliders and lists
 * keep theirs too, but leave Ctrl and Escape to the page.
 */
function belongsToField(press: KeyPress, target: EventTarget | null): boolean {
  if (!(target instanceof Element)) return false;
  if (isTypedIn(target)) return true;
  const forPage = press.ctrlKey || press.metaKey || press.key === 'Escape';
  return !forPage && target.closest(worked) !== null;
}

/** Enter and Space on a button press the button, never a shortcut besides. */
function pressesButton(press: KeyPress, target: EventTarget | null): boolean {
  return (
    (press.key === 'Enter' || press.key === ' ') &&
    target instanceof Element &&
    target.closest('button, a, summary') !== null
  );
}

/** Listens for shortcuts on the window until the function given back is called. */
export function listenForKeys(read: () => Session, services: Services): () => void {
  const onKey = (event: KeyboardEvent): void => {
    if (event.defaultPrevented || event.repeat) return;
    if (belongsToField(event, event.target) || pressesButton(event, event.target)) return;
    const state = read();
    const action = actionForKey(event, state);
    if (!action) return;
    event.preventDefault();
    action.perform(services, state);
  };
  window.addEventListener('keydown', onKey);
  return () => window.removeEventListener('keydown', onKey);
}

/** A letter, digit or sign by itself, which speech input or an unsure hand may press unmeant. */
function isLetterKey(key: string): boolean {
  return key.length === 1 && key !== ' ';
}

/** The shortcut that is told of an action, if it has one that does anything now. */
export function shownKey({ keys }: Action, letterKeys: boolean): string | undefined {
  return keys.find((key) => letterKeys || !isLetterKey(key));
}

/** A shortcut as it is written on this machine: "Ctrl+Z", "⌘Z" on a Mac. */
export function keyWords(keys: string, mac: boolean): string {
  return keys
    .split('+')
    .map((part) =>
      part === 'mod'
        ? mac
          ? '⌘'
          : 'Ctrl'
        : part === ' '
          ? 'Space'
          : part.length === 1
            ? part.toUpperCase()
            : part.charAt(0).toUpperCase() + part.slice(1),
    )
    .join(mac ? '' : '+');
}
