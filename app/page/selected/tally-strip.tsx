import { useState, type ReactElement } from 'react';
import { rowsFromStrip, type StripCount } from '../../../geo/debris/tally-rows.ts';
import type { SpeciesGroup } from '../../../geo/debris/timber-mass.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { speciesWords } from '../../words/debris-words.ts';
import { tape } from '../../words/format.ts';
import { bareLengthUnit, parseLength, parseNumber } from '../../words/parse-measure.ts';
import { diameterText, NEW_DIAMETER, readDiameter } from '../../words/tally-words.ts';
import { ChoiceField, WrittenField, type Reading } from '../fields.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';

const speciesOptions = Object.entries(speciesWords);

/** 100 m by 10 m, a tenth of a hectare, as the clearing handbooks count (handbook §4.2). */
const STRIP = { length: 100, width: 10 };

/** A tally walked on a strip: counts in, stems on the acre and how sure they are out. */
export function TallyStrip({
  feature,
}: {
  readonly feature: PlanFeature<'timber-block'>;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const [strip, setStrip] = useState(STRIP);
  const [counts, setCounts] = useState<readonly StripCount[]>([]);
  const [next, setNext] = useState<StripCount>({
    speciesGroup: 'mixed-hardwood',
    diameterMeters: NEW_DIAMETER,
    count: 0,
  });
  const [wrong, setWrong] = useState('');
  const add = () => {
    setCounts([...counts, next]);
    setNext({ ...next, count: 0 });
  };
  const use = () => {
    const read = rowsFromStrip(counts, strip.length, strip.width);
    if (!read.ok) {
      setWrong(`${read.problem.what} ${read.problem.wayOut}`);
      return;
    }
    setWrong('');
    services.setProperty(feature.id, 'tally', read.value.rows);
    services.setProperty(feature.id, 'countErrorShare', Math.min(1, read.value.countErrorShare));
    setCounts([]);
  };
  const length = (key: keyof typeof STRIP, label: string) => (
    <WrittenField
      label={label}
      shown={tape(strip[key], units)}
      read={(text) => readLength(text, bareLengthUnit(units, false))}
      onValue={(value) => setStrip({ ...strip, [key]: value })}
    />
  );
  return (
    <details className="fold">
      <summary className="narrow">Count a strip</summary>
      {length('length', 'Strip is long')}
      {length('width', 'Strip is wide')}
      <ul className="narrow">
        {counts.map((one, index) => (
          <li key={index}>
            <Said>
              {one.count} of {diameterText(one.diameterMeters, units)},{' '}
              {speciesWords[one.speciesGroup]}
            </Said>
          </li>
        ))}
      </ul>
      <ChoiceField
        label="Trees"
        value={next.speciesGroup}
        options={speciesOptions}
        onValue={(value) => setNext({ ...next, speciesGroup: value as SpeciesGroup })}
      />
      <WrittenField
        label="Diameter of those"
        shown={diameterText(next.diameterMeters, units)}
        inputMode="decimal"
        read={(text) => readDiameter(text, units)}
        onValue={(diameterMeters) => setNext({ ...next, diameterMeters })}
      />
      <WrittenField
        label="Counted"
        shown={String(next.count)}
        inputMode="numeric"
        read={readCount}
        onValue={(count) => setNext({ ...next, count })}
      />
      <div className="tools">
        <button type="button" className="button" disabled={next.count === 0} onClick={add}>
          Add these
        </button>
        <button type="button" className="button" disabled={counts.length === 0} onClick={use}>
          Make it the tally
        </button>
      </div>
      {wrong && (
        <p className="wrong narrow" role="alert">
          {wrong}
        </p>
      )}
    </details>
  );
}

function readLength(text: string, bareUnit: string): Reading<number> {
  const meters = parseLength(text, bareUnit);
  if (meters !== null && meters >= 1 && meters <= 5000) return { value: meters };
  return { wrong: 'Write a length, such as 330 ft.' };
}

function readCount(text: string): Reading<number> {
  const count = parseNumber(text);
  if (count !== null && Number.isInteger(count) && count >= 0 && count <= 100_000) {
    return { value: count };
  }
  return { wrong: 'Write how many you counted.' };
}
