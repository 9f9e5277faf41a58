export interface DrawingKeys {
  /** Whether there is a shape in hand; the keys mean something else otherwise. */
  active(): boolean;
  enter(): unknown;
  escape(): unknown;
  /** Backspace and Delete; false leaves the key to others. */
  erase(): boolean;
  /** An arrow, in pixels of the screen: few with Shift held. False leaves it to others. */
  arrow(dx: number, dy: number): boolean;
  /** The arrow was let go. */
  released(): unknown;
}

const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
const stepPixels = { plain: 8, fine: 1 } as const;

/**
 * Enter finishes, Escape gives up, Backspace or Delete takes back, arrows move, wherever the focus
 * is except where one types or walks a list. Returns the way to stop listening.
 */
export function listenToKeys(keys: DrawingKeys, target: Window = window): () => void {
  const listen = (event: KeyboardEvent): void => {
    if (!keys.active() || event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey)
      return;
    if (isTyping(event.target)) return;
    const arrow = arrows[event.key];
    if (event.key === 'Escape') keys.escape();
    else if (event.key === 'Enter') {
      // Enter on a button presses the button.
      if (event.target instanceof HTMLButtonElement) return;
      keys.enter();
    } else if (event.key === 'Backspace' || event.key === 'Delete') {
      if (!keys.erase()) return;
    } else if (arrow) {
      const step = event.shiftKey ? stepPixels.fine : stepPixels.plain;
      if (!keys.arrow(arrow[0] * step, arrow[1] * step)) return;
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const release = (event: KeyboardEvent): void => {
    if (keys.active() && arrows[event.key]) keys.released();
  };
  target.addEventListener('keydown', listen, { capture: true });
  target.addEventListener('keyup', release, { capture: true });
  return () => {
    target.removeEventListener('keydown', listen, { capture: true });
    target.removeEventListener('keyup', release, { capture: true });
  };
}

/** Fields take their own keys, sliders and lists their arrows. */
function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.isContentEditable || target.closest('dialog[open], [role=menu]')) return true;
  return ['INPUT', 'TEXTAREA', 'SELECT'].includes(target.tagName);
}
