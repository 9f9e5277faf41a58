import { useEffect, useId, useRef, type ReactElement } from 'react';
import { session } from '../../store/session.ts';
import { useServices } from '../services.ts';

/** Longer than any description of one parcel. */
const MOST_LETTERS = 20_000;

/** Where the calls are typed or pasted; the words between them are passed over. */
export function CallsField({ text }: { readonly text: string }): ReactElement {
  const id = useId();
  const services = useServices();
  const area = useRef<HTMLTextAreaElement>(null);
  useEffect(
    () =>
      // The point of beginning is set: the calls are next.
      session.subscribe((now, before) => {
        if (before.helper === null || now.helper !== null) return;
        // Where the panel gave way to the map it comes back first.
        setTimeout(() => area.current?.focus());
      }),
    [],
  );
  return (
    <div className="deed-calls">
      <label htmlFor={id}>
        <b>Calls</b> <span className="aside narrow">one to a line, or paste all of it</span>
      </label>
      <textarea
        id={id}
        ref={area}
        className="boxed"
        rows={4}
        value={text}
        maxLength={MOST_LETTERS}
        spellCheck={false}
        autoComplete="off"
        placeholder={'N 45°29\'46" E 208.71 ft\nS 44-30 E 12 chains 40 links\ndue West 20 poles'}
        aria-describedby={`${id}-units`}
        onChange={(event) => services.setDeed({ text: event.target.value })}
      />
      <p className="narrow aside" id={`${id}-units`}>
        In feet, meters, chains and links, rods, poles or perches. A curve: “curve left, radius 200
        ft, chord N 20 E 148 ft”.
      </p>
    </div>
  );
}
