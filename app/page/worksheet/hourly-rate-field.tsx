import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { figure } from '../../words/format.ts';
import { parseNumber } from '../../words/parse-measure.ts';
import { WrittenField, type Reading } from '../fields.tsx';
import { useServices } from '../services.ts';

/** What an hour of the machine that clears costs; without it nothing is priced. */
export function HourlyRateField(): ReactElement {
  const rate = useSession((state) => state.settings.dozerHourlyRate);
  const services = useServices();
  return (
    <WrittenField<number | null>
      label="An hour costs"
      shown={rate === null ? '' : figure(rate, 0)}
      inputMode="decimal"
      read={readRate}
      onValue={(value) => services.setSetting('dozerHourlyRate', value)}
      help="with its operator, in your own money"
    />
  );
}

function readRate(text: string): Reading<number | null> {
  if (text.trim() === '') return { value: null };
  const rate = parseNumber(text.replace(/^\D+/, ''));
  if (rate !== null && rate >= 0 && rate <= 100_000) return { value: rate };
  return { wrong: 'Write what an hour costs, such as 140.' };
}
