import { useState, type ReactElement } from 'react';
import type { WindColumns, WindPreview } from '../../../geo/formats/wind/wind-opening.ts';
import type { WindReading } from '../../store/session.ts';
import { parseNumber } from '../../words/parse-measure.ts';
import { ChoiceField } from '../fields.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';

/** A record on its way in: how far it is read, or what its file does not say. */
export function WindAsk({ opening }: { readonly opening: WindReading }): ReactElement {
  const services = useServices();
  const { asked, file, share } = opening;
  return (
    <div className="wind-ask" role="group" aria-label={`Opening ${file.name}`}>
      {asked === null ? (
        <p className="narrow" role="status">
          Reading {file.name} … {share !== null && `${Math.round(share * 100)} %`}
        </p>
      ) : (
        <>
          <p className="narrow">
            <Said>
              <b>{file.name}.</b> {asked.why}
            </Said>
          </p>
          {asked.question === 'columns' && asked.preview && <Columns preview={asked.preview} />}
          {asked.question === 'date-order' && <DateOrder />}
          {asked.question === 'speed-unit' && <SpeedUnit />}
          {asked.question === 'direction-unit' && <DirectionUnit />}
          {asked.question === 'utc-offset' && <Clock />}
        </>
      )}
      <button type="button" className="text-button narrow" onClick={() => services.leaveWind()}>
        {asked === null ? 'Stop reading' : 'Do not open it'}
      </button>
    </div>
  );
}

function SpeedUnit(): ReactElement {
  const services = useServices();
  return (
    <div className="tools">
      {(['mph', 'kt', 'm/s', 'km/h'] as const).map((speedUnit) => (
        <button
          key={speedUnit}
          type="button"
          className="button"
          onClick={() => services.answerWind({ speedUnit })}
        >
          {speedUnit === 'kt' ? 'knots' : speedUnit}
        </button>
      ))}
    </div>
  );
}

function DateOrder(): ReactElement {
  const services = useServices();
  return (
    <div className="tools">
      <button
        type="button"
        className="button"
        onClick={() => services.answerWind({ dateOrder: 'month-first' })}
      >
        Month first
      </button>
      <button
        type="button"
        className="button"
        onClick={() => services.answerWind({ dateOrder: 'day-first' })}
      >
        Day first
      </button>
    </div>
  );
}

function DirectionUnit(): ReactElement {
  const services = useServices();
  const say = (directionUnit: 'degrees' | 'tens-of-degrees') => services.answerWind({ directionUnit }); // prettier-ignore
  return (
    <div className="tools">
      <button type="button" className="button" onClick={() => say('degrees')}>
        Degrees
      </button>
      <button type="button" className="button" onClick={() => say('tens-of-degrees')}>
        Tens of degrees
      </button>
    </div>
  );
}

function Clock(): ReactElement {
  const services = useServices();
  const [hours, setHours] = useState('-5');
  const parsed = parseNumber(hours);
  return (
    <form
      className="tools"
      onSubmit={(event) => {
        event.preventDefault();
        if (parsed !== null) services.answerWind({ utcOffsetHours: parsed });
      }}
    >
      <label className="narrow">
        Hours ahead of UTC all year (Eastern Standard Time is −5){' '}
        <input
          className="written"
          inputMode="text"
          value={hours}
          onChange={(event) => setHours(event.target.value)}
        />
      </label>
      <button type="submit" className="button" disabled={parsed === null || Math.abs(parsed) > 14}>
        Use it
      </button>
    </form>
  );
}

const none = [['', 'none']] as const;

function Columns({ preview }: { readonly preview: WindPreview }): ReactElement {
  const services = useServices();
  const [chosen, setChosen] = useState(preview.guess);
  const width = Math.max(preview.names?.length ?? 0, ...preview.rows.map((row) => row.length));
  const options = Array.from(
    { length: width },
    (_, i) => [String(i), `${preview.names?.[i] ?? `column ${i + 1}`}: ${preview.rows[0]?.[i] ?? ''}`] as const, // prettier-ignore
  );
  const field = (key: keyof WindColumns, label: string, isNeeded: boolean) => (
    <ChoiceField
      label={label}
      value={chosen[key] === null ? '' : String(chosen[key])}
      options={isNeeded && chosen[key] !== null ? options : [...none, ...options]}
      onValue={(value) => setChosen({ ...chosen, [key]: value === '' ? null : Number(value) })}
    />
  );
  const { time, direction, speed } = chosen;
  const isWhole = time !== null && direction !== null && speed !== null;
  return (
    <>
      <p className="narrow aside-line">
        <Said>{preview.reason}</Said>
      </p>
      {field('time', 'Date and time', true)}
      {field('clock', 'Time, where it stands apart', false)}
      {field('direction', 'Direction it blows from', true)}
      {field('speed', 'Speed', true)}
      {field('gust', 'Gust', false)}
      <button
        type="button"
        className="button"
        disabled={!isWhole}
        onClick={() => {
          if (isWhole) services.answerWind({ columns: { ...chosen, time, direction, speed } });
        }}
      >
        Read these columns
      </button>
    </>
  );
}
