import {
  useEffect,
  useId,
  useRef,
  useState,
  type KeyboardEvent,
  type ReactElement,
  type ReactNode,
} from 'react';

export interface MenuItem {
  readonly words: string;
  /** A second, lighter line. */
  readonly why?: string;
  /** Items of one group that follow each other stand under its name. */
  readonly group?: string;
  /** Told where the pointer rests on it. */
  readonly title?: string;
  /** Its shortcut, as written. */
  readonly key?: string;
  /** Given for one of several that exclude each other. */
  readonly checked?: boolean;
  readonly disabled?: boolean;
  readonly pick: () => void;
}

/** A button with a short menu under it: arrow keys walk it, Escape or a press elsewhere leaves it. */
export function MenuButton({
  label,
  name,
  disabled = false,
  className = '',
  items,
}: {
  readonly label: string;
  readonly name: string;
  readonly disabled?: boolean;
  readonly className?: string;
  readonly items: readonly MenuItem[];
}): ReactElement {
  const id = useId();
  const [open, setOpen] = useState(false);
  const root = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const leave = (): void => {
    setOpen(false);
    button.current?.focus();
  };
  useEffect(() => {
    if (!open) return;
    entries(root.current)[0]?.focus();
    const elsewhere = (event: globalThis.PointerEvent): void => {
      if (!(event.target instanceof Node && root.current?.contains(event.target))) setOpen(false);
    };
    window.addEventListener('pointerdown', elsewhere);
    return () => window.removeEventListener('pointerdown', elsewhere);
  }, [open]);
  const walk = (event: KeyboardEvent): void => {
    const all = entries(root.current);
    const at = all.indexOf(document.activeElement as HTMLButtonElement);
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[event.key];
    if (event.key === 'Escape') {
      event.preventDefault();
      event.stopPropagation();
      leave();
    } else if (event.key === 'Tab') {
      setOpen(false);
    } else if (next !== undefined) {
      event.preventDefault();
      all[(next + all.length) % all.length]?.focus();
    }
  };
  return (
    <div className={`menu ${className}`} ref={root}>
      <button
        ref={button}
        type="button"
        className="button lifted"
        aria-haspopup="menu"
        aria-expanded={open}
        aria-controls={open ? id : undefined}
        aria-label={label === name ? undefined : `${name}: ${label}`}
        disabled={disabled}
        onClick={() => setOpen(!open)}
      >
        {label}
        <svg viewBox="0 0 10 6" width="10" height="6" aria-hidden="true">
          <path d="M1 1 L5 5 L9 1" fill="none" stroke="currentColor" strokeWidth="1.8" />
        </svg>
      </button>
      {open && (
        <div className="menu-list" id={id} role="menu" aria-label={name} onKeyDown={walk}>
          <div className="menu-items">
            {grouped(items).map(([group, members]) => (
              <Group key={group ?? ''} name={group}>
                {members.map((item) => (
                  <button
                    key={item.words}
                    type="button"
                    role={item.checked === undefined ? 'menuitem' : 'menuitemradio'}
                    aria-checked={item.checked}
                    aria-keyshortcuts={item.key}
                    disabled={item.disabled}
                    title={item.title}
                    onClick={() => {
                      leave();
                      item.pick();
                    }}
                  >
                    <b>{item.words}</b>
                    {item.why && <span className="aside narrow">{item.why}</span>}
                    {item.key && (
                      <kbd className="aside" aria-hidden="true">
                        {item.key}
                      </kbd>
                    )}
                  </button>
                ))}
              </Group>
            ))}
          </div>
        </div>
      )}
    </div>
  );
}

function Group({
  name,
  children,
}: {
  readonly name: string | undefined;
  readonly children: ReactNode;
}): ReactElement {
  if (name === undefined) return <>{children}</>;
  return (
    <div className="menu-group" role="group" aria-label={name}>
      <span className="menu-head narrow" aria-hidden="true">
        {name}
      </span>
      {children}
    </div>
  );
}

/** Runs of items of the same group, in their order. */
function grouped(
  items: readonly MenuItem[],
): readonly (readonly [string | undefined, readonly MenuItem[]])[] {
  const runs: [string | undefined, MenuItem[]][] = [];
  for (const item of items) {
    const last = runs[runs.length - 1];
    if (last && last[0] === item.group) last[1].push(item);
    else runs.push([item.group, [item]]);
  }
  return runs;
}

function entries(root: HTMLElement | null): HTMLButtonElement[] {
  return [...(root?.querySelectorAll<HTMLButtonElement>('[role^=menuitem]:not(:disabled)') ?? [])];
}
