import type { ReactElement } from 'react';
import type { SettingKey, Settings } from '../../../geo/plan/settings.ts';
import { useSession } from '../../store/use-session.ts';
import { parseNumber } from '../../words/parse-measure.ts';
import { shareText } from '../../words/tally-words.ts';
import { WrittenField, type Reading } from '../fields.tsx';
import { useServices } from '../services.ts';
import { lengthField } from './length-field.ts';
import { volumeField } from './volume-field.ts';

type NumberKey = { [K in SettingKey]: Settings[K] extends number ? K : never }[SettingKey];

/** What the debris is reckoned by, every step of it. */
export function DebrisFields(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const { units } = settings;
  const set = (key: NumberKey) => (value: number) => services.setSetting(key, value);
  const percent = (key: NumberKey, label: string, least: number, most: number, help: string) => (
    <WrittenField
      label={label}
      shown={shareText(settings[key])}
      inputMode="decimal"
      read={(text) => readPercent(text, least, most)}
      onValue={set(key)}
      help={help}
    />
  );
  const reach = lengthField(settings.pushReachMeters, units, [5, 1000]);
  const load = volumeField(settings.truckLoadCubicMeters, units, [1, 100], '12 yd³');
  return (
    <details className="fold">
      <summary className="narrow">What the debris is reckoned by</summary>
      {percent(
        'rootShare',
        'Roots that come with a stump',
        0,
        1,
        'of the coarse roots; 70 % is common practice',
      )}
      <WrittenField
        label="Brittle tops, times what the tables give"
        shown={String(settings.brittleTops)}
        inputMode="decimal"
        read={readFactor}
        onValue={set('brittleTops')}
        help="1 as tabled; to 1.3 where tops shatter (common practice)"
      />
      {percent(
        'packingRatio',
        'Wood in the pile',
        0.02,
        0.6,
        '10 to 25 %: PNW-GTR-364; the rest is air and soil',
      )}
      {percent(
        'pileSoilShare',
        'Soil in the pile',
        0,
        0.3,
        'up to a tenth is dirty, more very dirty',
      )}
      <WrittenField
        label="A truck takes, loose"
        shown={load.shown}
        inputMode="decimal"
        read={load.read}
        onValue={set('truckLoadCubicMeters')}
        help="12 yd³ on a tandem (common practice)"
      />
      <WrittenField
        label="Debris is pushed at most"
        shown={reach.shown}
        inputMode="decimal"
        read={reach.read}
        onValue={set('pushReachMeters')}
        help="300 ft; farther wants another machine (common practice)"
      />
    </details>
  );
}

function readPercent(text: string, least: number, most: number): Reading<number> {
  const percent = parseNumber(text);
  const share = percent === null ? NaN : percent / 100;
  if (share >= least && share <= most) return { value: share };
  return { wrong: `Write a share from ${least * 100} to ${most * 100} %.` };
}

function readFactor(text: string): Reading<number> {
  const factor = parseNumber(text);
  if (factor !== null && factor >= 1 && factor <= 3) return { value: factor };
  return { wrong: 'Write a number from 1 to 3.' };
}
