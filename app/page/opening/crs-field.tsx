import { useEffect, useId, useState, type ReactElement } from 'react';
import { useServices, type CrsChoice } from '../services.ts';

/** A coordinate system by name or EPSG code, out of those that Assart accepts. */
export function CrsField({
  chosen,
  onChosen,
  start = '',
}: {
  readonly chosen: number | null;
  readonly onChosen: (epsg: number | null) => void;
  /** What stands in it at first. */
  readonly start?: string;
}): ReactElement {
  const services = useServices();
  const id = useId();
  const [text, setText] = useState(start);
  const [found, setFound] = useState<readonly CrsChoice[]>([]);
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
    <>
      <label htmlFor={id}>Name or EPSG code</label>
      <input
        id={id}
        className="boxed"
        value={text}
        autoComplete="off"
        placeholder="UTM zone 17N, or 26917"
        onChange={(event) => {
          setText(event.target.value);
          onChosen(null);
        }}
      />
      <fieldset className="choices scrolls">
        <legend className="out-of-sight">Coordinate systems found</legend>
        {found.map((choice) => (
          <label key={choice.epsg} className="choice">
            <input
              type="radio"
              name={id}
              checked={chosen === choice.epsg}
              onChange={() => onChosen(choice.epsg)}
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
    </>
  );
}
