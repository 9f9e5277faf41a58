import type { ReactElement } from 'react';
import type { Settings } from '../../../geo/plan/settings.ts';
import { useSession } from '../../store/use-session.ts';
import { MOST_RAIN_METERS, readDepth } from '../../words/read-depth.ts';
import { rainQuantity, spoken } from '../../words/format.ts';
import { coverWords } from '../../words/water-words.ts';
import { CheckField, ChoiceField, WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';
import { EvaporationFields } from './evaporation-fields.tsx';
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

const rainTypes = [
  ['II', 'type II, most of the country'],
  ['III', 'type III, Gulf and Atlantic coast'],
  ['I', 'type I, southern Pacific coast'],
  ['IA', 'type IA, northern Pacific coast'],
] as const;
/** What the rain falls on, and what takes the water away again. */
export function RainSettings(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const rain = useSession((state) => state.conditions.rain);
  const { units } = settings;
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
        label="Rain, written"
        shown={spoken(rainQuantity(rain.depthMeters, units))}
        inputMode="decimal"
        read={(text) => readDepth(text, units, MOST_RAIN_METERS, '1.7 in or 43 mm')}
        onValue={(depthMeters) => services.setConditions({ rain: { ...rain, depthMeters } }, 'set')}
      />
      <ChoiceField
        label="How a day’s rain falls here"
        value={settings.rainType}
        options={rainTypes}
        onValue={set('rainType')}
      />
      <EvaporationFields />
      <CheckField
        label="The water table is up: nothing soaks in"
        value={settings.waterTableUp}
        onValue={(value) => services.setSetting('waterTableUp', value)}
      />
    </details>
  );
}
