import type { ReactElement } from 'react';
import type { Settings } from '../../../geo/plan/settings.ts';
import { useSession } from '../../store/use-session.ts';
import { lengthQuantity, spoken } from '../../words/format.ts';
import { bareLengthUnit, parseLength } from '../../words/parse-measure.ts';
import { ChoiceField, WrittenField, type Reading } from '../fields.tsx';
import { useServices } from '../services.ts';
import { volumeField } from './volume-field.ts';

const operators = [
  ['excellent', 'excellent'],
  ['average', 'average'],
  ['poor', 'new to it'],
] as const;

/** The machine that the minutes are for. */
export function DozerFields(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const { units, dozerBladeLoadCubicMeters: load, dozerBladeWidthMeters: width } = settings;
  const blade = volumeField(load, units, [0.1, 50], '2.5 yd³');
  return (
    <details className="fold">
      <summary className="narrow">The dozer that the minutes are for</summary>
      <WrittenField
        label="One blade carries, loose"
        shown={blade.shown}
        inputMode="decimal"
        read={blade.read}
        onValue={(value) => services.setSetting('dozerBladeLoadCubicMeters', value)}
        help="about 2.5 yd³ at 100 hp (common practice)"
      />
      <WrittenField
        label="Blade is wide"
        shown={spoken(lengthQuantity(width, units))}
        inputMode="decimal"
        read={(text) => readWidth(text, bareLengthUnit(units, false))}
        onValue={(value) => services.setSetting('dozerBladeWidthMeters', value)}
      />
      <ChoiceField
        label="Operator"
        value={settings.dozerOperator}
        options={operators}
        onValue={(value) =>
          services.setSetting('dozerOperator', value as Settings['dozerOperator'])
        }
      />
    </details>
  );
}

function readWidth(text: string, bareUnit: string): Reading<number> {
  const meters = parseLength(text, bareUnit);
  if (meters !== null && meters >= 1 && meters <= 8) return { value: meters };
  return { wrong: 'Write a width from 4 to 26 ft, such as 9 ft.' };
}
