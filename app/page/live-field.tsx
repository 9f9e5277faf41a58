import { useId, useState, type ReactElement } from 'react';
import type { Reading } from './fields.tsx';

/**
 * A blank whose value is handed on with every letter, as far as it reads as one: for what is shown
 * on the map while it is typed. What is wrong is said on leaving it.
 */
export function LiveField<T>({
  label,
  start,
  read,
  onValue,
  inputMode = 'text',
}: {
  readonly label: string;
  /** What stands in it at first. */
  readonly start: string;
  readonly read: (text: string) => Reading<T>;
  readonly onValue: (value: T) => void;
  readonly inputMode?: 'text' | 'decimal';
}): ReactElement {
  const id = useId();
  const [text, setText] = useState(start);
  const [left, setLeft] = useState(false);
  const reading = read(text);
  const wrong = left && 'wrong' in reading ? reading.wrong : '';
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        className="written"
        value={text}
        inputMode={inputMode}
        autoComplete="off"
        spellCheck={false}
        aria-invalid={wrong !== ''}
        aria-describedby={wrong ? `${id}-wrong` : undefined}
        onFocus={(event) => event.currentTarget.select()}
        onBlur={() => setLeft(true)}
        onChange={(event) => {
          setLeft(false);
          setText(event.target.value);
          const next = read(event.target.value);
          if ('value' in next) onValue(next.value);
        }}
      />
      {wrong && (
        <span className="wrong" id={`${id}-wrong`} role="alert">
          {wrong}
        </span>
      )}
    </div>
  );
}
