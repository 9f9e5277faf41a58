import { useEffect, useId, useRef, useState, type ReactElement, type RefObject } from 'react';
import { isTypedIn } from '../../actions/keys.ts';
import { useSession } from '../../store/use-session.ts';
import { parseLeg } from '../../words/parse-leg.ts';
import { useServices } from '../services.ts';

/**
 * The next point by numbers: a length, and a direction or the way the pointer shows. A digit typed
 * anywhere else on the page begins it.
 */
export function LegField(): ReactElement {
  const id = useId();
  const services = useServices();
  const units = useSession((state) => state.settings.units);
  const [text, setText] = useState('');
  const [isWrong, setWrong] = useState(false);
  const input = useRef<HTMLInputElement>(null);
  useTakeDigits(input);
  const example = units === 'metric' ? '60 m N45E' : '200 ft N45E';
  const place = (): void => {
    const leg = parseLeg(text, units);
    setWrong(leg === null);
    if (!leg) return;
    services.placeLeg(leg);
    setText('');
  };
  return (
    <div className="leg-field narrow">
      <label htmlFor={id}>Length, bearing</label>
      <input
        ref={input}
        id={id}
        value={text}
        placeholder={example}
        autoComplete="off"
        spellCheck={false}
        aria-invalid={isWrong}
        aria-describedby={isWrong ? `${id}-wrong` : undefined}
        onChange={(event) => {
          setText(event.target.value);
          setWrong(false);
        }}
        onKeyDown={(event) => {
          if (event.key === 'Enter') {
            event.preventDefault();
            if (text.trim() === '') services.finishDrawing();
            else place();
          } else if (event.key === 'Escape') {
            event.preventDefault();
            event.stopPropagation();
            // Once to take the writing back, once more to leave the field, then it gives up.
            if (text === '') event.currentTarget.blur();
            setText('');
            setWrong(false);
          }
        }}
      />
      <button type="button" className="button" disabled={text.trim() === ''} onClick={place}>
        Set
      </button>
      {isWrong && (
        <span className="wrong" id={`${id}-wrong`} role="alert">
          Write a length and a direction, such as {example} or{' '}
          {units === 'metric' ? '60, 143' : '200, 143'}.
        </span>
      )}
    </div>
  );
}

/** The key itself is then written by the browser, in the field that has come into focus. */
function useTakeDigits(input: RefObject<HTMLInputElement | null>): void {
  useEffect(() => {
    const take = (event: KeyboardEvent): void => {
      if (event.altKey || event.ctrlKey || event.metaKey || event.defaultPrevented) return;
      if (/^[0-9]$/.test(event.key) && !isTypedIn(event.target)) input.current?.focus();
    };
    window.addEventListener('keydown', take, { capture: true });
    return () => window.removeEventListener('keydown', take, { capture: true });
  }, [input]);
}
