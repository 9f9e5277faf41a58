import { useId, useState, type ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { saveFormatWords } from '../../words/bring-in-words.ts';
import type { DrawingFormat } from '../../workers/messages.ts';
import { CheckField } from '../fields.tsx';
import { useServices } from '../services.ts';

const formats = Object.keys(saveFormatWords) as DrawingFormat[];

/** All that is drawn as one file that other programs and receivers read. */
export function SaveDrawings(): ReactElement {
  const services = useServices();
  const hasAny = useSession((state) => Object.keys(state.features).length > 0);
  const [format, setFormat] = useState<DrawingFormat>('geojson');
  const [forOld, setForOld] = useState(false);
  const name = useId();
  return (
    <div className="save-drawings">
      <h3>Save drawings as</h3>
      <fieldset className="choices narrow">
        <legend className="out-of-sight">Format</legend>
        {formats.map((one) => (
          <label key={one} className="choice">
            <input
              type="radio"
              name={name}
              checked={format === one}
              onChange={() => setFormat(one)}
            />
            <span>
              <b>{saveFormatWords[one].name}</b>{' '}
              <span className="aside-text">{saveFormatWords[one].why}</span>
            </span>
          </label>
        ))}
      </fieldset>
      {format === 'gpx' && (
        <CheckField
          label="For old receivers: short names, routes"
          value={forOld}
          onValue={setForOld}
        />
      )}
      <div className="tools">
        <button
          type="button"
          className="button"
          disabled={!hasAny}
          onClick={() => services.saveDrawings(format, format === 'gpx' && forOld)}
        >
          Save drawings
        </button>
      </div>
      <p className="narrow aside-line">
        Places are longitude and latitude on WGS 84. For all of a project in one file, save a copy
        of it under Projects.
      </p>
    </div>
  );
}
