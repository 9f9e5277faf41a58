import { useState, type ReactElement } from 'react';
import { readRainTable } from '../../../geo/formats/rain-table.ts';
import { useSession } from '../../store/use-session.ts';
import { rainsOf, rainTableOf } from '../../words/rain-often.ts';
import { ChoiceField } from '../fields.tsx';
import { useServices } from '../services.ts';

/** Rains by how often they come here, and the file that says so. */
export function RainTableFields(): ReactElement {
  const text = useSession((state) => state.settings.rainTable);
  const units = useSession((state) => state.settings.units);
  const rain = useSession((state) => state.conditions.rain);
  const services = useServices();
  const [wrong, setWrong] = useState<string | null>(null);
  const table = rainTableOf(text);
  const rains = table ? rainsOf(table, rain.durationHours, units) : [];
  const chosen = rains.find(({ depthMeters }) => Math.abs(depthMeters - rain.depthMeters) < 1e-4);
  const take = async (file: File | undefined) => {
    if (!file) return;
    const found = await file.text();
    const read = readRainTable(file.name, found);
    setWrong(read.ok ? null : `${read.problem.what} ${read.problem.wayOut}`);
    if (read.ok) services.setSetting('rainTable', found);
  };
  return (
    <>
      {rains.length > 0 && (
        <ChoiceField
          label={`Rain of ${rain.durationHours} h that comes`}
          value={chosen ? String(chosen.years) : ''}
          options={[
            ...(chosen ? [] : ([['', 'as the gauge says']] as const)),
            ...rains.map(({ years, words }) => [String(years), words] as const),
          ]}
          onValue={(value) => {
            const picked = rains.find(({ years }) => String(years) === value);
            if (picked) services.setConditions({ rain: { ...rain, depthMeters: picked.depthMeters } }, 'set'); // prettier-ignore
          }}
        />
      )}
      <div className="field">
        <label htmlFor="rain-table">Rainfall table (.csv)</label>
        <input
          id="rain-table"
          type="file"
          accept=".csv,.txt"
          onChange={(event) => void take(event.target.files?.[0])}
        />
      </div>
      <p className="narrow aside-line" role="status">
        {wrong ??
          (table
            ? `From ${table.sourceName}.`
            : 'A point table of depth by duration and years, as the national atlas gives it.')}
      </p>
    </>
  );
}
