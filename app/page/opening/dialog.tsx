import { useEffect, useRef, type ReactElement, type ReactNode } from 'react';
import { isShaping } from '../../actions/shaping.ts';
import { session } from '../../store/session.ts';

/**
 * A question in front of the map. Escape leaves it as its own way out does; one that is longer than
 * a screen is `closable` at its head, which stays in sight.
 */
export function Dialog({
  title,
  onLeave,
  closable = false,
  children,
}: {
  readonly title: string;
  readonly onLeave: () => void;
  readonly closable?: boolean;
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
      {closable ? (
        <header className="dialog-head">
          <h2>{title}</h2>
          <button type="button" className="button" onClick={onLeave}>
            Close
          </button>
        </header>
      ) : (
        <h2>{title}</h2>
      )}
      {children}
    </dialog>
  );
}
