import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { areaQuantity, lengthQuantity, spoken } from '../../words/format.ts';
import { bareLengthUnit, parseLength } from '../../words/parse-measure.ts';
import { WrittenField, type Reading } from '../fields.tsx';
import { useServices } from '../services.ts';

const ACRE = 4046.8564224;
const HECTARE = 10_000;

/** How wide a gap is, and from how much water one is wanted; the flow lines on the map too. */
export function GapFields(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const { units, gapWidthMeters, gapCatchmentSquareMeters, flowCatchmentSquareMeters } = settings;
  const isMetric = units === 'metric';
  return (
    <details className="fold">
      <summary className="narrow">Gaps and flow lines</summary>
      <WrittenField
        label="A gap is wide"
        shown={spoken(lengthQuantity(gapWidthMeters, units))}
        inputMode="decimal"
        read={(text) => readWidth(text, bareLengthUnit(units, false))}
        onValue={(value) => services.setSetting('gapWidthMeters', value)}
        help="12 to 20 ft; 26 ft where the berm is to burn"
      />
      <WrittenField
        label="One is wanted where this much drains across"
        shown={spoken(areaQuantity(gapCatchmentSquareMeters, units))}
        inputMode="decimal"
        read={(text) => readArea(text, isMetric)}
        onValue={(value) => services.setSetting('gapCatchmentSquareMeters', value)}
        help="a quarter to half an acre (common practice)"
      />
      <WrittenField
        label="Flow lines begin where this much drains"
        shown={spoken(areaQuantity(flowCatchmentSquareMeters, units))}
        inputMode="decimal"
        read={(text) => readArea(text, isMetric)}
        onValue={(value) => services.setSetting('flowCatchmentSquareMeters', value)}
      />
    </details>
  );
}

function readWidth(text: string, bareUnit: string): Reading<number> {
  const meters = parseLength(text, bareUnit);
  if (meters !== null && meters >= 1 && meters <= 30) return { value: meters };
  return { wrong: 'Write a width from 4 to 98 ft, such as 16 ft.' };
}

const areaUnits: Readonly<Record<string, number>> = {
  ac: ACRE,
  acre: ACRE,
  acres: ACRE,
  ha: HECTARE,
  'm²': 1,
  m2: 1,
};

function readArea(text: string, isMetric: boolean): Reading<number> {
  const found = /^(\d*\.?\d+)\s*(\S*)$/.exec(text.trim().toLowerCase().replaceAll(',', ''));
  const unit = found?.[2] ? areaUnits[found[2]] : isMetric ? HECTARE : ACRE;
  const area = found && unit ? Number(found[1]) * unit : NaN;
  if (area >= 40 && area <= 1e6) return { value: area };
  return { wrong: 'Write an area from 0.01 to 247 ac, such as 0.25 ac.' };
}
