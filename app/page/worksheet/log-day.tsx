import { useState, type ReactElement } from 'react';
import type { Settings } from '../../../geo/plan/settings.ts';
import { useSession } from '../../store/use-session.ts';
import { parseNumber } from '../../words/parse-measure.ts';
import { WrittenField, type Reading } from '../fields.tsx';

type Logged = Settings['loggedClearing'][number];

const ACRE = 4046.8564224;

/** So much ground cleared in so many hours, as it was. */
export function LogDay({ onDay }: { readonly onDay: (day: Logged) => void }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const [area, setArea] = useState<number | null>(null);
  const [hours, setHours] = useState<number | null>(null);
  const [unit, size] = units === 'metric' ? (['ha', 10_000] as const) : (['ac', ACRE] as const);
  return (
    <>
      <WrittenField
        label={`Cleared, ${unit}`}
        shown={area === null ? '' : String(area)}
        inputMode="decimal"
        read={readPlain}
        onValue={setArea}
      />
      <WrittenField
        label="In machine hours"
        shown={hours === null ? '' : String(hours)}
        inputMode="decimal"
        read={readPlain}
        onValue={setHours}
      />
      <button
        type="button"
        className="button"
        disabled={area === null || hours === null}
        onClick={() => {
          onDay({ areaSquareMeters: area! * size, hours: hours! });
          setArea(null);
          setHours(null);
        }}
      >
        Log it
      </button>
    </>
  );
}

function readPlain(text: string): Reading<number> {
  const value = parseNumber(text);
  if (value !== null && value > 0 && value <= 10_000) return { value };
  return { wrong: 'Write a number above 0.' };
}
