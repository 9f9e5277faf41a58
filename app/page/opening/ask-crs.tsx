import { useEffect, useId, useState, type ReactElement } from 'react';
import { useServices, type CrsChoice } from '../services.ts';

/** A coordinate system by name or EPSG code, out of those that Assart accepts. */
export function AskCrs(): ReactElement {
  const services = useServices();
  const id = useId();
  const [text, setText] = useState('');
  const [found, setFound] = useState<readonly CrsChoice[]>([]);
  const [chosen, setChosen] = useState<number | null>(null);
  useEffect(() => {
    let current = true;
    void services.findCrs(text).then((choices) => {
      if (current) setFound(choices);
    });
    return () => {
      current = false;
    };
  }, [services, text]);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (chosen !== null) services.answerQuestion({ epsg: chosen });
      }}
    >
      <label htmlFor={id}>Name or EPSG code</label>
      <input
        id={id}
        className="boxed"
        value={text}
        autoComplete="off"
        placeholder="UTM zone 17N, or 26917"
        onChange={(event) => {
          setText(event.target.value);
          setChosen(null);
        }}
      />
      <fieldset className="choices scrolls">
        <legend className="out-of-sight">Coordinate systems found</legend>
        {found.map((choice) => (
          <label key={choice.epsg} className="choice">
            <input
              type="radio"
              name="crs"
              checked={chosen === choice.epsg}
              onChange={() => setChosen(choice.epsg)}
            />
            <span>{choice.name}</span>
            <span className="aside narrow">EPSG {choice.epsg}</span>
          </label>
        ))}
        {found.length === 0 && text !== '' && (
          <p className="aside">
            None by that name. NAD83 and WGS 84 systems in meters, feet or degrees can be used; for
            others, have the file brought into one of them.
          </p>
        )}
      </fieldset>
      <div className="tools">
        <button type="submit" className="button lead" disabled={chosen === null}>
          Use it
        </button>
        <button type="button" className="button" onClick={() => services.leaveOpening()}>
          Do not open it
        </button>
      </div>
    </form>
  );
}
