import type { ReactElement } from 'react';
import { inchesFromMeters, metersFromInches } from '../../../geo/frame/units.ts';
import { useSession } from '../../store/use-session.ts';
import { rainQuantity, spoken } from '../../words/format.ts';
import { oftenText, rainTableOf } from '../../words/rain-often.ts';
import { stormLine } from '../../words/water-words.ts';
import { Figure } from '../quantity.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { Scale, type Graduation } from './scale.tsx';

const durations = [1, 2, 3, 6, 12, 24] as const;

const inches: readonly Graduation[] = Array.from({ length: 25 }, (_, index) => {
  const at = index / 4;
  const whole = index % 4 === 0;
  return {
    at,
    length: whole ? 'long' : index % 2 === 0 ? 'middle' : 'short',
    ...(whole ? { word: String(at) } : {}),
  };
});
const millimeters: readonly Graduation[] = Array.from({ length: 31 }, (_, index) => {
  const at = index * 5;
  const word = index % 5 === 0;
  return {
    at,
    length: word ? 'long' : 'short',
    ...(word ? { word: String(at) } : {}),
  };
});

/** A rain gauge lying on its side: the water in the tube is the storm's depth. */
export function Rain(): ReactElement {
  const rain = useSession((state) => state.conditions.rain);
  const units = useSession((state) => state.settings.units);
  const storm = useSession((state) => state.site.storm?.value);
  const leftOut = useSession((state) => state.site.lowSpots?.value.leftOut ?? null);
  const text = useSession((state) => state.settings.rainTable);
  const table = rainTableOf(text);
  const often = table && oftenText(table, rain);
  const services = useServices();
  const metric = units === 'metric';
  const shown = metric ? rain.depthMeters * 1000 : inchesFromMeters(rain.depthMeters);
  const depth = (value: number): number => (metric ? value / 1000 : metersFromInches(value));
  const change = (value: number, phase: 'moving' | 'set'): void =>
    services.setConditions({ rain: { ...rain, depthMeters: depth(value) } }, phase);
  const quantity = rainQuantity(rain.depthMeters, units);
  return (
    <div className="condition" data-condition="rain">
      <div className="condition-head">
        <h2>Rain</h2>
        <span className="narrow condition-value">
          <Figure of={quantity} />
          <label className="inline-choice">
            <span className="aside">over</span>{' '}
            <select
              aria-label="Hours that the rain lasts"
              value={rain.durationHours}
              onChange={(event) =>
                services.setConditions(
                  { rain: { ...rain, durationHours: Number(event.target.value) } },
                  'set',
                )
              }
            >
              {durationsWith(rain.durationHours).map((hours) => (
                <option key={hours} value={hours}>
                  {hours} h
                </option>
              ))}
            </select>
          </label>
        </span>
      </div>
      <Scale
        label="Rain depth"
        look="rain-gauge"
        least={0}
        most={metric ? 150 : 6}
        step={metric ? 1 : 0.05}
        value={shown}
        said={`${spoken(quantity)} in ${rain.durationHours === 1 ? 'an hour' : `${rain.durationHours} hours`}`}
        graduations={metric ? millimeters : inches}
        onMove={(value) => change(value, 'moving')}
        onSet={(value) => change(value, 'set')}
      >
        <span className="tube">
          <span className="water" />
        </span>
        <span className="funnel" />
      </Scale>
      <div className="reads narrow rain-reads">
        <label className="inline-choice">
          <select
            aria-label="How wet the ground is when the rain begins"
            value={rain.soil}
            onChange={(event) =>
              services.setConditions(
                { rain: { ...rain, soil: event.target.value as typeof rain.soil } },
                'set',
              )
            }
          >
            <option value="dry">dry ground</option>
            <option value="average">average ground</option>
            <option value="wet">wet ground</option>
          </select>
        </label>{' '}
        <LeftUndone of={{ site: ['storm'] }}>
          <Said>
            {storm
              ? stormLine(storm, leftOut, units, often)
              : 'Open ground to see what this rain does.'}
          </Said>
        </LeftUndone>
      </div>
    </div>
  );
}

function durationsWith(hours: number): readonly number[] {
  return (durations as readonly number[]).includes(hours)
    ? durations
    : [...durations, hours].sort((a, b) => a - b);
}
