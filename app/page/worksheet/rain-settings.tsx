import type { ReactElement } from 'react';
import { inchesFromMeters } from '../../../geo/frame/units.ts';
import type { Settings } from '../../../geo/plan/settings.ts';
import { useSession } from '../../store/use-session.ts';
import { bareLengthUnit, parseLength } from '../../words/parse-measure.ts';
import { coverWords } from '../../words/water-words.ts';
import { CheckField, ChoiceField, WrittenField, type Reading } from '../fields.tsx';
import { useServices } from '../services.ts';
import { RainTableFields } from './rain-table.tsx';

const covers = Object.entries(coverWords);
const groups = [
  ['A', 'A, takes water fast'],
  ['B', 'B'],
  ['C', 'C'],
  ['D', 'D, takes water slowest'],
] as const;
const states = [
  ['as-it-is', 'the site as it is'],
  ['cleared', 'clearings and plots cleared'],
] as const;

/** What the rain falls on, and what takes the water away again. */
export function RainSettings(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const { units } = settings;
  const evaporation = settings.evaporationMetersPerDay;
  const set =
    <K extends keyof Settings>(key: K) =>
    (value: string) =>
      services.setSetting(key, value as Settings[K]);
  return (
    <details className="fold">
      <summary className="narrow">How often it rains so, and on what</summary>
      <RainTableFields />
      <ChoiceField
        label="Rain falls on"
        value={settings.rainFallsOn}
        options={states}
        onValue={set('rainFallsOn')}
      />
      <ChoiceField
        label="Cover of the site"
        value={settings.siteCover}
        options={covers}
        onValue={set('siteCover')}
      />
      <ChoiceField
        label="Cover once cleared"
        value={settings.clearedCover}
        options={covers}
        onValue={set('clearedCover')}
      />
      <ChoiceField
        label="Soil group where none is drawn"
        value={settings.assumedSoilGroup}
        options={groups}
        onValue={set('assumedSoilGroup')}
      />
      <WrittenField
        label="Evaporates in a day"
        shown={
          units === 'metric'
            ? `${Number((evaporation * 1000).toPrecision(2))} mm`
            : `${Number(inchesFromMeters(evaporation).toPrecision(2))} in`
        }
        inputMode="decimal"
        read={(text) => readEvaporation(text, bareLengthUnit(units, true))}
        onValue={(value) => services.setSetting('evaporationMetersPerDay', value)}
        help="about 0.1 in on a growing day (common practice)"
      />
      <CheckField
        label="The water table is up: nothing soaks in"
        value={settings.waterTableUp}
        onValue={(value) => services.setSetting('waterTableUp', value)}
      />
    </details>
  );
}

function readEvaporation(text: string, bareUnit: string): Reading<number> {
  const meters = parseLength(text, bareUnit);
  if (meters === null || meters < 0 || meters > 0.05) {
    return { wrong: 'Write a depth from 0 to 2 in, such as 0.1 in or 3 mm.' };
  }
  return { value: meters };
}
