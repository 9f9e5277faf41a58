import { useState, type CSSProperties, type ReactElement, type ReactNode } from 'react';

/** A graduation: where it is on the scale, how long its line is, and the word under it. */
export interface Graduation {
  readonly at: number;
  readonly length: 'long' | 'middle' | 'short';
  readonly word?: ReactNode;
}

/**
 * A straight scale with a marker that is moved by pointer, finger or arrow keys: a range input in
 * its own clothes, so that it is read and worked by assistive tools as one.
 */
export function Scale({
  label,
  least,
  most,
  step,
  value,
  said,
  graduations,
  look = '',
  turnsBy,
  onMove,
  onSet,
  children,
}: {
  readonly label: string;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  readonly value: number;
  /** The value in words, as it is read aloud. */
  readonly said: string;
  readonly graduations: readonly Graduation[];
  readonly look?: string;
  /** For a circle, whose end is its beginning: the keys go round over it, and so far with Page Up and Down. */
  readonly turnsBy?: number;
  readonly onMove: (value: number) => void;
  readonly onSet: (value: number) => void;
  /** What is drawn behind the graduations. */
  readonly children?: ReactNode;
}): ReactElement {
  const [held, setHeld] = useState<number | null>(null);
  const shown = held ?? value;
  const share = (at: number): number => (at - least) / (most - least);
  const settle = (): void => {
    if (held === null) return;
    setHeld(null);
    onSet(held);
  };
  return (
    <div className={`scale ${look}`} style={{ '--at': share(shown) } as CSSProperties}>
      <div className="scale-back" aria-hidden="true">
        {children}
      </div>
      <div className="scale-marks narrow" aria-hidden="true">
        {graduations.map((mark) => (
          <span
            key={`${mark.at} ${mark.length}`}
            className={`graduation ${mark.length} ${endOf(share(mark.at))}`}
            style={{ left: `${share(mark.at) * 100}%` }}
          >
            {mark.word && <span className="word">{mark.word}</span>}
          </span>
        ))}
      </div>
      <input
        type="range"
        aria-label={label}
        aria-valuetext={said}
        min={least}
        max={most}
        step={step}
        value={shown}
        onChange={(event) => {
          const next = Number(event.target.value);
          setHeld(next);
          onMove(next);
        }}
        onKeyDown={(event) => {
          const steps = turnsBy === undefined ? undefined : keySteps(step, turnsBy)[event.key];
          if (steps === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
          event.preventDefault();
          const span = most - least;
          const next = least + ((((shown - least + steps) % span) + span) % span);
          setHeld(next);
          onMove(next);
        }}
        onPointerUp={settle}
        onKeyUp={settle}
        onBlur={settle}
      />
    </div>
  );
}

/** What a key adds to a scale that goes round. */
function keySteps(step: number, turn: number): Readonly<Record<string, number | undefined>> {
  return {
    ArrowLeft: -step,
    ArrowDown: -step,
    ArrowRight: step,
    ArrowUp: step,
    PageDown: -turn,
    PageUp: turn,
  };
}

/** A word near an end of the scale is written inward, so that it stays over it. */
function endOf(share: number): string {
  const near = 0.08;
  if (share <= near) return 'at-start';
  return share >= 1 - near ? 'at-end' : '';
}
