import { useId, useState, type ReactElement, type ReactNode } from 'react';

/** What a typed text means: a value, or one sentence on what to type instead. */
export type Reading<T> = { readonly value: T } | { readonly wrong: string };

/**
 * A blank to write in. The text is the field's own until Enter or leaving it; only a text that
 * reads as a value is handed on, and Escape takes the writing back.
 */
export function WrittenField<T>({
  label,
  shown,
  read,
  onValue,
  help,
  inputMode,
  large = false,
  placeholder,
}: {
  readonly label: string;
  readonly shown: string;
  readonly read: (text: string) => Reading<T>;
  readonly onValue: (value: T) => void;
  readonly help?: ReactNode;
  readonly inputMode?: 'text' | 'decimal' | 'numeric';
  readonly large?: boolean;
  /** What stands for an empty one. */
  readonly placeholder?: string;
}): ReactElement {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const [wrong, setWrong] = useState('');

  const settle = (): void => {
    if (typed === null || typed === shown) {
      setTyped(null);
      setWrong('');
      return;
    }
    const reading = read(typed);
    if ('wrong' in reading) {
      setWrong(reading.wrong);
      return;
    }
    setTyped(null);
    setWrong('');
    onValue(reading.value);
  };

  const about = wrong ? `${id}-wrong` : help ? `${id}-help` : undefined;
  return (
    <div className={large ? 'field large' : 'field'}>
      <label htmlFor={id} className={large ? 'out-of-sight' : undefined}>
        {label}
      </label>
      <input
        id={id}
        className="written"
        value={typed ?? shown}
        placeholder={placeholder}
        inputMode={inputMode ?? 'text'}
        autoComplete="off"
        spellCheck={false}
        aria-invalid={wrong !== ''}
        aria-describedby={about}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={settle}
        onKeyDown={(event) => {
          if (event.key === 'Enter') settle();
          if (event.key === 'Escape') {
            setTyped(null);
            setWrong('');
          }
        }}
      />
      {wrong ? (
        <span className="wrong" id={`${id}-wrong`} role="alert">
          {wrong}
        </span>
      ) : (
        help && (
          <span className="help" id={`${id}-help`}>
            {help}
          </span>
        )
      )}
    </div>
  );
}

/** One of a few, from a list. The empty choice stands for "not known". */
export function ChoiceField({
  label,
  value,
  options,
  onValue,
}: {
  readonly label: string;
  readonly value: string;
  readonly options: readonly (readonly [value: string, words: string])[];
  readonly onValue: (value: string) => void;
}): ReactElement {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        className="written"
        value={value}
        onChange={(event) => onValue(event.target.value)}
      >
        {options.map(([option, words]) => (
          <option key={option} value={option}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

export function CheckField({
  label,
  value,
  onValue,
}: {
  readonly label: string;
  readonly value: boolean;
  readonly onValue: (value: boolean) => void;
}): ReactElement {
  return (
    <label className="check">
      {label}
      <input type="checkbox" checked={value} onChange={(event) => onValue(event.target.checked)} />
    </label>
  );
}
