import { useEffect, useId, useMemo, useState, type KeyboardEvent, type ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { doableActions, findActions } from '../../actions/find-actions.ts';
import { shownKey } from '../../actions/keys.ts';
import { actionNamed, type Action } from '../../actions/registry.ts';
import { session } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { keysHere } from '../keys-here.ts';
import { Dialog } from '../opening/dialog.tsx';
import { useServices } from '../services.ts';
import './palette.css';

/** Everything that can be done now, found by a few letters of its name or by its key. */
export function Palette(): ReactElement | null {
  const isOpen = useSession((state) => state.desk === 'palette');
  return isOpen ? <Finder /> : null;
}

function Finder(): ReactElement {
  const services = useServices();
  const id = useId();
  const [text, setText] = useState('');
  const [at, setAt] = useState(0);
  const names = useSession(useShallow((state) => doableActions(state).map(({ name }) => name)));
  const found = useMemo(() => findActions(names.map(actionNamed), text), [names, text]);
  const chosen = found[Math.min(at, found.length - 1)];
  const optionId = (action: Action): string => `${id}-${action.name}`;
  const chosenId = chosen && optionId(chosen);

  useEffect(() => {
    if (chosenId) document.getElementById(chosenId)?.scrollIntoView({ block: 'nearest' });
  }, [chosenId]);

  const pick = (action: Action): void => {
    services.leavePalette();
    action.perform(services, session.getState());
  };
  const walk = (event: KeyboardEvent): void => {
    // Enter and the arrows that choose among an input method's own proposals are not ours.
    if (event.nativeEvent.isComposing) return;
    const now = Math.min(at, found.length - 1);
    const next = { ArrowDown: now + 1, ArrowUp: now - 1, PageDown: now + 6, PageUp: now - 6 }[
      event.key
    ];
    if (next !== undefined) {
      event.preventDefault();
      if (found.length === 0) return;
      const isArrow = event.key.startsWith('Arrow');
      const round = (next + found.length) % found.length;
      setAt(isArrow ? round : Math.max(0, Math.min(found.length - 1, next)));
    } else if (event.key === 'Enter' && chosen) {
      event.preventDefault();
      pick(chosen);
    }
  };

  return (
    <Dialog title="Actions" onLeave={() => services.leavePalette()}>
      <input
        className="palette-field"
        type="text"
        role="combobox"
        aria-label="Find an action by its name or key"
        aria-autocomplete="list"
        aria-expanded={found.length > 0}
        aria-controls={found.length > 0 ? id : undefined}
        aria-activedescendant={chosenId}
        placeholder="draw, berm, slope …"
        autoComplete="off"
        spellCheck={false}
        value={text}
        onChange={(event) => {
          setText(event.target.value);
          setAt(0);
        }}
        onKeyDown={walk}
      />
      {found.length > 0 && (
        <ul
          className="palette-list"
          id={id}
          role="listbox"
          aria-label="Actions that can be done now"
        >
          {found.map((action) => (
            <Option
              key={action.name}
              id={optionId(action)}
              action={action}
              isChosen={action === chosen}
              onPick={() => pick(action)}
            />
          ))}
        </ul>
      )}
      <p className="palette-foot aside narrow" role="status">
        {found.length === 0
          ? 'Nothing that can be done now is called that.'
          : `${found.length} can be done now.`}{' '}
        <span className="for-keys">Arrow keys choose, Enter does it, Escape leaves.</span>
      </p>
    </Dialog>
  );
}

function Option({
  id,
  action,
  isChosen,
  onPick,
}: {
  readonly id: string;
  readonly action: Action;
  readonly isChosen: boolean;
  readonly onPick: () => void;
}): ReactElement {
  const letterKeys = useSession((state) => state.letterKeys);
  const key = shownKey(action, letterKeys);
  return (
    <li
      id={id}
      role="option"
      aria-selected={isChosen}
      // The field keeps the focus, so that one goes on typing.
      onMouseDown={(event) => event.preventDefault()}
      onClick={onPick}
    >
      <span>{action.label}</span>
      {key && <kbd className="aside narrow">{keysHere(key)}</kbd>}
    </li>
  );
}
