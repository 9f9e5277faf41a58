import { useState, type ReactElement } from 'react';
import { useServices } from '../services.ts';
import { CrsField } from './crs-field.tsx';

/** Which coordinate system a silent file is in. */
export function AskCrs(): ReactElement {
  const services = useServices();
  const [chosen, setChosen] = useState<number | null>(null);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (chosen !== null) services.answerQuestion({ epsg: chosen });
      }}
    >
      <CrsField chosen={chosen} onChosen={setChosen} />
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
