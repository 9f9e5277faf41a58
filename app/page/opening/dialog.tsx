import { useEffect, useRef, type ReactElement, type ReactNode } from 'react';

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
    if (element && !element.open) element.showModal();
    return () => element?.close();
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
