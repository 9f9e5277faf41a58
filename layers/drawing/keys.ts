export interface DrawingKeys {
  /** Whether there is a shape in hand; the keys mean something else otherwise. */
  active(): boolean;
  enter(): unknown;
  escape(): unknown;
  /** Backspace and Delete; false leaves the key to others. */
  erase(): boolean;
}

/**
 * Enter finishes, Escape gives up, Backspace or Delete takes back, wherever the focus is except
 * where one types. Returns the way to stop listening.
 */
export function listenToKeys(keys: DrawingKeys, target: Window = window): () => void {
  const listen = (event: KeyboardEvent): void => {
    if (!keys.active() || event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey)
      return;
    if (isTyping(event.target)) return;
    if (event.key === 'Escape') keys.escape();
    else if (event.key === 'Enter') {
      // Enter on a button presses the button.
      if (event.target instanceof HTMLButtonElement) return;
      keys.enter();
    } else if (event.key === 'Backspace' || event.key === 'Delete') {
      if (!keys.erase()) return;
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  target.addEventListener('keydown', listen, { capture: true });
  return () => target.removeEventListener('keydown', listen, { capture: true });
}

function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  return target.isContentEditable || ['INPUT', 'TEXTAREA', 'SELECT'].includes(target.tagName);
}
