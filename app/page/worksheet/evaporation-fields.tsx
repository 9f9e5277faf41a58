import type { ReactElement } from 'react';
import type { Settings } from '../../../geo/plan/settings.ts';
import { evaporationByMonth } from '../../../geo/water/evaporation.ts';
import { useSession } from '../../store/use-session.ts';
import { MOST_EVAPORATION_METERS, readDepth } from '../../words/read-depth.ts';
import { dayDepthText, monthNames } from '../../words/water-words.ts';
import { ChoiceField, WrittenField } from '../fields.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';

const monthOptions = monthNames.map((name, i) => [String(i + 1), name] as const);

/** What evaporates: one figure for a growing day, or twelve of one's own. */
export function EvaporationFields(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const { units, growingSeason: season, evaporationMetersPerDay: growingDay } = settings;
  const written = settings.evaporationByMonth;
  const byMonth = written ?? evaporationByMonth(growingDay, season);
  const read = (text: string) => readDepth(text, units, MOST_EVAPORATION_METERS, '0.1 in or 3 mm');
  const setSeason = (end: 0 | 1) => (value: string) => {
    const next: Settings['growingSeason'] = [season[0], season[1]];
    next[end] = Number(value);
    services.setSetting('growingSeason', next);
  };
  return (
    <>
      <WrittenField
        label="Evaporates on a growing day"
        shown={dayDepthText(growingDay, units)}
        inputMode="decimal"
        read={read}
        onValue={(value) => services.setSetting('evaporationMetersPerDay', value)}
        help="about 0.1 in (common practice)"
      />
      <ChoiceField
        label="Growing season from"
        value={String(season[0])}
        options={monthOptions}
        onValue={setSeason(0)}
      />
      <ChoiceField
        label="through"
        value={String(season[1])}
        options={monthOptions}
        onValue={setSeason(1)}
      />
      <details className="fold">
        <summary className="narrow">
          Evaporation by month{written ? ', as written here' : ''}
        </summary>
        <p className="narrow aside-line">
          <Said>
            {written
              ? 'Your own figures a day.'
              : 'The growing day above, with the shape of a year on shallow ponds (Molnau, Kpordze and Craine 1992, from one northern state). Write your place’s own over it.'}
          </Said>
        </p>
        {byMonth.map((perDay, i) => (
          <WrittenField
            key={monthNames[i]}
            label={monthNames[i]!}
            shown={dayDepthText(perDay, units)}
            inputMode="decimal"
            read={read}
            onValue={(value) => services.setSetting('evaporationByMonth', byMonth.with(i, value))}
          />
        ))}
        {written && (
          <button
            type="button"
            className="button"
            onClick={() => services.setSetting('evaporationByMonth', null)}
          >
            Go back to the shape of the year
          </button>
        )}
      </details>
    </>
  );
}
