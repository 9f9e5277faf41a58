import { useState, type ReactElement } from 'react';
import { rowFromBasalArea } from '../../../geo/debris/tally-rows.ts';
import type { SpeciesGroup, TallyRow } from '../../../geo/debris/timber-mass.ts';
import { metersFromInches } from '../../../geo/frame/units.ts';
import { useSession } from '../../store/use-session.ts';
import { speciesWords } from '../../words/debris-words.ts';
import {
  basalAreaUnit,
  diameterText,
  readBasalArea,
  readDiameter,
} from '../../words/tally-words.ts';
import { ChoiceField, WrittenField } from '../fields.tsx';

const speciesOptions = Object.entries(speciesWords);

/** A row from basal area and mean diameter, as a prism cruise gives them. */
export function TallyBasal({ onRow }: { readonly onRow: (row: TallyRow) => void }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const [speciesGroup, setSpecies] = useState<SpeciesGroup>('mixed-hardwood');
  const [area, setArea] = useState<{ text: string; value: number } | null>(null);
  const [diameter, setDiameter] = useState(metersFromInches(10));
  const [wrong, setWrong] = useState('');
  const add = () => {
    const row = rowFromBasalArea(speciesGroup, area?.value ?? NaN, diameter);
    setWrong(row.ok ? '' : `${row.problem.what} ${row.problem.wayOut}`);
    if (!row.ok) return;
    onRow(row.value);
    setArea(null);
  };
  return (
    <details className="fold">
      <summary className="narrow">From basal area</summary>
      <ChoiceField
        label="Trees"
        value={speciesGroup}
        options={speciesOptions}
        onValue={(value) => setSpecies(value as SpeciesGroup)}
      />
      <WrittenField
        label={`Basal area, ${basalAreaUnit(units)}`}
        shown={area?.text ?? ''}
        inputMode="decimal"
        read={(text) => {
          const read = readBasalArea(text, units);
          return 'wrong' in read ? read : { value: { text, value: read.value } };
        }}
        onValue={setArea}
      />
      <WrittenField
        label="Mean diameter"
        shown={diameterText(diameter, units)}
        inputMode="decimal"
        read={(text) => readDiameter(text, units)}
        onValue={setDiameter}
      />
      <button type="button" className="button" disabled={!area} onClick={add}>
        Add it as a row
      </button>
      {wrong && (
        <p className="wrong narrow" role="alert">
          {wrong}
        </p>
      )}
    </details>
  );
}
