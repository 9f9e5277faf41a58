import { useEffect, useRef, type ReactElement, type ReactNode } from 'react';
import { isShaping } from '../../actions/shaping.ts';
import { session } from '../../store/session.ts';

/** A question in front of the map. Escape leaves it as its own way out does. */
export function Dialog({
  title,
  onLeave,
  children,
}: {
  readonly title: string;
  readonly onLeave: () => void;
  readonly children: ReactNode;
}): ReactElement {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    if (element && !element.open) element.showModal();
    return () => {
      element?.close();
      // Back to what opened it; keys of a drawing that it began belong to the page.
      const isFree = document.activeElement === document.body && !isShaping(session.getState());
      if (isFree && before instanceof HTMLElement) before.focus({ preventScroll: true });
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      className="dialog"
      aria-label={title}
      onCancel={(event) => {
        event.preventDefault();
        onLeave();
      }}
    >
      <h2>{title}</h2>
      {children}
    </dialog>
  );
}
