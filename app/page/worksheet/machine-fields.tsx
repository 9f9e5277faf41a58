import type { ReactElement } from 'react';
import type { Settings } from '../../../geo/plan/settings.ts';
import { useSession } from '../../store/use-session.ts';
import { areaQuantity, figure, spoken } from '../../words/format.ts';
import { horsepower, WATTS_PER_HORSEPOWER } from '../../words/machine-words.ts';
import { parseNumber } from '../../words/parse-measure.ts';
import { WrittenField, type Reading } from '../fields.tsx';
import { useServices } from '../services.ts';
import { HourlyRateField } from './hourly-rate-field.tsx';
import { LogDay } from './log-day.tsx';
import { MachineList } from './machine-list.tsx';

/** Power and rate of the machine that clears, and what you have logged with it. */
export function MachineFields(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const { dozerPowerWatts, loggedClearing, units } = settings;
  const put = (next: Settings['loggedClearing']) => services.setSetting('loggedClearing', next);
  return (
    <details className="fold">
      <summary className="narrow">The machine that clears, and your own log</summary>
      <MachineList />
      <WrittenField
        label="Power"
        shown={horsepower(dozerPowerWatts)}
        inputMode="decimal"
        read={readPower}
        onValue={(value) => services.setSetting('dozerPowerWatts', value)}
        help="kilowatts too, as 75 kW"
      />
      <HourlyRateField />
      {loggedClearing.length > 0 && (
        <ul className="narrow">
          {loggedClearing.map((one, index) => (
            <li key={index}>
              {spoken(areaQuantity(one.areaSquareMeters, units))} in {figure(one.hours, 1)} h{' '}
              <button
                type="button"
                className="text-button"
                onClick={() => put(loggedClearing.filter((_, at) => at !== index))}
              >
                Take it out
              </button>
            </li>
          ))}
        </ul>
      )}
      <LogDay onDay={(day) => put([...loggedClearing, day])} />
    </details>
  );
}

function readPower(text: string): Reading<number> {
  const power = parseNumber(text.replace(/(hp|kw)\s*$/i, ''));
  const watts = (power ?? NaN) * (/kw\s*$/i.test(text) ? 1000 : WATTS_PER_HORSEPOWER);
  if (watts >= 10_000 && watts <= 2e6) return { value: watts };
  return { wrong: 'Write its power, such as 100 hp.' };
}
