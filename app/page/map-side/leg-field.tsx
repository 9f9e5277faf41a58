import { useId, useState, type ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { parseLeg } from '../../words/parse-leg.ts';
import { useServices } from '../services.ts';

/** The next point by numbers: a length, and a direction or the way the pointer shows. */
export function LegField(): ReactElement {
  const id = useId();
  const services = useServices();
  const units = useSession((state) => state.settings.units);
  const [text, setText] = useState('');
  const [isWrong, setWrong] = useState(false);
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
            place();
          } else if (event.key === 'Escape' && text !== '') {
            event.preventDefault();
            event.stopPropagation();
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
