import { useLayoutEffect, useRef, type RefObject } from 'react';

/**
 * Keeps a section's head where it was pressed while the section before it closes over it. Opened from the
 * lower half of the worksheet it goes to the top, so that what its body says first is in sight.
 */
export function useHeldHead(
  open: boolean,
): readonly [head: RefObject<HTMLButtonElement | null>, hold: () => void] {
  const head = useRef<HTMLButtonElement>(null);
  const held = useRef<number | null>(null);
  useLayoutEffect(() => {
    const scroller = head.current?.closest('.margin');
    const before = held.current;
    held.current = null;
    if (before === null || !head.current || !scroller) return;
    const panel = scroller.getBoundingClientRect();
    const isLow = before > panel.top + panel.height / 2;
    const wanted = open && isLow ? panel.top : Math.max(before, panel.top);
    scroller.scrollTop += head.current.getBoundingClientRect().top - wanted;
  }, [open]);
  return [
    head,
    () => {
      held.current = head.current?.getBoundingClientRect().top ?? null;
    },
  ];
}
