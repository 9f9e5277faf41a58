import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { recordLine, roseSentence, tallyLine } from '../../words/wind-words.ts';
import { FileButton } from '../file-button.tsx';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { WindAsk } from './wind-ask.tsx';
import { WindFields } from './wind-fields.tsx';
import { WindRoses } from './wind-roses.tsx';
import './wind.css';

/** The hourly record of a station near, how it was read, and what the wind does by it. */
export function WindRecordPart(): ReactElement {
  const stations = useSession((state) => state.settings.windStations);
  const opening = useSession((state) => state.windOpening);
  const wind = useSession((state) => state.site.wind);
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const value = wind?.value;
  return (
    <section className="wind-record" aria-label="Wind record">
      <h3 className="narrow">Wind record</h3>
      {stations.length === 0 && (
        <p className="narrow">
          <b>Open the hourly record of a weather station near.</b> Which hours a stand works follows
          from it: airport reports, the national hourly files, fire-weather stations, or any table.
        </p>
      )}
      <ul className="narrow wind-stations">
        {stations.map((station, index) => (
          <li key={station.id}>
            <b>{station.name}</b>
            {index === 0 ? ' (in use)' : ''}{' '}
            <span className="aside">{tallyLine(station.tally)}</span>
            <span className="tools">
              {index > 0 && (
                <button
                  type="button"
                  className="text-button"
                  onClick={() =>
                    services.setSetting('windStations', [
                      station,
                      ...stations.filter(({ id }) => id !== station.id),
                    ])
                  }
                >
                  Use it
                </button>
              )}
              <button
                type="button"
                className="text-button"
                onClick={() =>
                  services.setSetting(
                    'windStations',
                    stations.filter(({ id }) => id !== station.id),
                  )
                }
              >
                Take it out
              </button>
            </span>
          </li>
        ))}
      </ul>
      {value && (
        <>
          <p className="narrow aside-line">
            <Said>{recordLine(value)}</Said>
          </p>
          <p className="narrow">
            <Said>{roseSentence('At dawn', value.parts.dawn, units)}</Said>
          </p>
          <p className="narrow">
            <Said>{roseSentence('At dusk', value.parts.dusk, units)}</Said>
          </p>
          <WindRoses wind={value} />
        </>
      )}
      {opening ? (
        <WindAsk opening={opening} />
      ) : (
        <FileButton
          words="Open a wind record…"
          label="Wind record file"
          onFiles={([file]) => services.openWind(file!)}
        />
      )}
      <WindFields />
      {wind && <HowWorkedOut basis={wind.basis} title="How the record was read" />}
    </section>
  );
}
