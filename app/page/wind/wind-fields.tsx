import type { ReactElement } from 'react';
import type { SettingKey, Settings } from '../../../geo/plan/settings.ts';
import { usualDriftRule } from '../../../geo/wind/drift-rule.ts';
import { useSession } from '../../store/use-session.ts';
import { rangeQuantity, spoken } from '../../words/format.ts';
import { parseLength, parseNumber } from '../../words/parse-measure.ts';
import { dayWords, readDay } from '../../words/wind-words.ts';
import { WrittenField, type Reading } from '../fields.tsx';
import { useServices } from '../services.ts';

type NumberKey = { [K in SettingKey]: Settings[K] extends number ? K : never }[SettingKey];

/** The season, legal light and the rule that a wind is judged by: ours, to be changed. */
export function WindFields(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const { units, huntingSeason, scentRangeMeters } = settings;
  const number = (
    key: NumberKey,
    label: string,
    unit: string,
    least: number,
    most: number,
    help?: string,
  ) => (
    <WrittenField
      label={label}
      shown={`${settings[key]} ${unit}`}
      inputMode="decimal"
      read={(text) => readNumber(text, least, most, unit)}
      onValue={(value) => services.setSetting(key, value)}
      help={help}
    />
  );
  const day = (which: 0 | 1, label: string) => (
    <WrittenField
      label={label}
      shown={dayWords(huntingSeason[which])}
      read={readDay}
      onValue={(value) =>
        services.setSetting(
          'huntingSeason',
          which === 0 ? [value, huntingSeason[1]] : [huntingSeason[0], value],
        )
      }
    />
  );
  return (
    <details className="fold">
      <summary className="narrow">The season, and what a wind is judged by</summary>
      {day(0, 'First day of the season')}
      {day(1, 'Last day of the season')}
      {number(
        'lightBeforeSunriseMinutes',
        'Legal light begins before sunrise',
        'min',
        -120,
        120,
        'the state’s rule counts',
      )}
      {number('lightAfterSunsetMinutes', 'Legal light ends after sunset', 'min', -120, 120)}
      <WrittenField
        label="Scent is followed so far"
        shown={spoken(rangeQuantity(scentRangeMeters, units))}
        inputMode="decimal"
        read={(text) => readRange(text, units === 'metric' ? 'm' : 'yd')}
        onValue={(value) => services.setSetting('scentRangeMeters', value)}
        help={`${spoken(rangeQuantity(usualDriftRule.rangeMeters, units))}: ours, common practice at best`}
      />
      {number('scentLeastHalfAngleDegrees', 'It spreads at least, either side', '°', 5, 180)}
      {number(
        'scentCoreHalfAngleDegrees',
        'Reached within, either side, it does not work',
        '°',
        0,
        180,
      )}
      {number('scentLocalTurningDegrees', 'Ground and woods turn the wind by', '°', 0, 90)}
    </details>
  );
}

function readNumber(text: string, least: number, most: number, unit: string): Reading<number> {
  const value = parseNumber(text);
  if (value !== null && value >= least && value <= most) return { value };
  return { wrong: `Write a number from ${least} to ${most} ${unit}.` };
}

function readRange(text: string, bareUnit: string): Reading<number> {
  const meters = parseLength(text, bareUnit);
  if (meters !== null && meters >= 20 && meters <= 3000) return { value: meters };
  return { wrong: `Write a distance, such as 300 ${bareUnit}.` };
}
