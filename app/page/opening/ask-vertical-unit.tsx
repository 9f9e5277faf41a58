import { useState, type ReactElement } from 'react';
import type { LinearUnit } from '../../../geo/frame/crs-types.ts';
import { linearUnitWords } from '../../words/survey-words.ts';
import { useServices } from '../services.ts';

const units = Object.entries(linearUnitWords) as [LinearUnit, string][];

/** The unit of the heights is never guessed: a wrong one makes every depth wrong three times over. */
export function AskVerticalUnit(): ReactElement {
  const services = useServices();
  const [chosen, setChosen] = useState<LinearUnit | null>(null);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (chosen) services.answerQuestion({ verticalUnit: chosen });
      }}
    >
      <fieldset className="choices">
        <legend className="out-of-sight">Unit of the heights</legend>
        {units.map(([unit, words]) => (
          <label key={unit} className="choice">
            <input
              type="radio"
              name="vertical-unit"
              checked={chosen === unit}
              onChange={() => setChosen(unit)}
            />
            {words}
          </label>
        ))}
      </fieldset>
      <p className="aside">
        Not sure? Compare with a height that you know. Federal 1 m lidar is in meters; state and
        county lidar is often in US survey feet.
      </p>
      <div className="tools">
        <button type="submit" className="button lead" disabled={!chosen}>
          Use it
        </button>
        <button type="button" className="button" onClick={() => services.leaveOpening()}>
          Do not open it
        </button>
      </div>
    </form>
  );
}
