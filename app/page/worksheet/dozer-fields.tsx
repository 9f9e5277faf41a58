import type { ReactElement } from 'react';
import type { Settings } from '../../../geo/plan/settings.ts';
import { useSession } from '../../store/use-session.ts';
import { lengthQuantity, spoken } from '../../words/format.ts';
import { bareLengthUnit, parseLength } from '../../words/parse-measure.ts';
import { ChoiceField, WrittenField, type Reading } from '../fields.tsx';
import { useServices } from '../services.ts';

const operators = [
  ['excellent', 'excellent'],
  ['average', 'average'],
  ['poor', 'new to it'],
] as const;
const CUBIC_YARD = 0.9144 ** 3;

/** The machine that the minutes are for. */
export function DozerFields(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const { units, dozerBladeLoadCubicMeters: load, dozerBladeWidthMeters: width } = settings;
  const metric = units === 'metric';
  const shownLoad = metric ? `${Number(load.toPrecision(3))} m³` : `${Number((load / CUBIC_YARD).toPrecision(3))} yd³`; // prettier-ignore
  return (
    <details className="fold">
      <summary className="narrow">The dozer that the minutes are for</summary>
      <WrittenField
        label="One blade carries, loose"
        shown={shownLoad}
        inputMode="decimal"
        read={(text) => readLoad(text, metric)}
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

function readLoad(text: string, metric: boolean): Reading<number> {
  const found = /^(\d+(?:\.\d+)?)\s*(yd|yd3|yd³|m3|m³)?$/.exec(text.trim().toLowerCase());
  const inMeters = found?.[2] ? found[2].startsWith('m') : metric;
  const load = found ? Number(found[1]) * (inMeters ? 1 : CUBIC_YARD) : NaN;
  if (load >= 0.1 && load <= 50) return { value: load };
  return { wrong: 'Write loose yards from 0.2 to 65, such as 2.5 yd³.' };
}

function readWidth(text: string, bareUnit: string): Reading<number> {
  const meters = parseLength(text, bareUnit);
  if (meters !== null && meters >= 1 && meters <= 8) return { value: meters };
  return { wrong: 'Write a width from 4 to 26 ft, such as 9 ft.' };
}
