import type { ReactElement } from 'react';
import type { StandOverSeason } from '../../../geo/answers/wind-answers.ts';
import type { VerdictHours } from '../../../geo/wind/stand-season.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { figure } from '../../words/format.ts';
import { reasonText, seasonSentence, weekWords } from '../../words/wind-words.ts';
import { hoursOf, windName, windTable } from '../../words/wind-table.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Said } from '../said.tsx';
import '../wind/wind.css';

/** A stand over the season: how many mornings and evenings, on which winds, in which weeks. */
export function StandSeasonPart({
  feature,
}: {
  readonly feature: PlanFeature<'stand'>;
}): ReactElement | null {
  const answer = useSession((state) => state.site.standSeasons);
  const one = answer?.value.stands[feature.id];
  if (!answer || !one) return null;
  const { seasons } = answer.value;
  return (
    <section className="dams" aria-label="Over the season">
      <p className="narrow">
        <Said>
          <b>Over the season.</b> {seasonSentence(one.season)}
        </Said>
      </p>
      <WindTable of={one} seasons={seasons} />
      <Weeks of={one} />
      <HowWorkedOut basis={answer.basis} title="How the season was judged" />
    </section>
  );
}

function WindTable({
  of,
  seasons,
}: {
  readonly of: StandOverSeason;
  readonly seasons: number;
}): ReactElement {
  const features = useSession((state) => state.features);
  const units = useSession((state) => state.settings.units);
  const { rows, all } = windTable(of.season, seasons);
  return (
    <table className="numbers narrow by-wind">
      <caption className="out-of-sight">
        Hours of one season that it works, of those with that wind
      </caption>
      <thead>
        <tr>
          <th scope="col">Wind</th>
          <th scope="col" className="words">
            downwind
          </th>
          <th scope="col">works, dawn</th>
          <th scope="col">works, dusk</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ wind, hours }) => (
          <tr key={windName(wind)}>
            <th scope="row" className="whole">
              {windName(wind)}
            </th>
            <td className="words aside">
              <Said>
                {typeof wind === 'number'
                  ? reasonText(
                      of.downwind[wind]!,
                      (id) => features[id]?.name || 'something unnamed',
                      units,
                    )
                  : ''}
              </Said>
            </td>
            <td>
              <Said>{hoursOf(hours.morning)}</Said>
            </td>
            <td>
              <Said>{hoursOf(hours.evening)}</Said>
            </td>
          </tr>
        ))}
        <tr>
          <th scope="row" className="whole">
            all
          </th>
          <td className="words" />
          <td>
            <b>
              <Said>{hoursOf(all.morning)}</Said>
            </b>
          </td>
          <td>
            <b>
              <Said>{hoursOf(all.evening)}</Said>
            </b>
          </td>
        </tr>
      </tbody>
    </table>
  );
}

/** Week by week: the share of legal hours that work, and where the low sun is in the eyes. */
function Weeks({ of: { season, glare } }: { readonly of: StandOverSeason }): ReactElement {
  const start = useSession((state) => state.settings.huntingSeason[0]);
  const share = ({ works, marginal, doesNot }: VerdictHours) => {
    const all = works + marginal + doesNot;
    return all > 0 ? works / all : 0;
  };
  return (
    <details className="fold">
      <summary className="narrow">Week by week</summary>
      <table className="numbers narrow wind-bars">
        <caption className="out-of-sight">Share of legal hours that work, by week</caption>
        <thead>
          <tr>
            <th scope="col">Week of</th>
            <th scope="col">dawn</th>
            <th scope="col">dusk</th>
          </tr>
        </thead>
        <tbody>
          {season.weeks.map((week, i) => {
            const sun = glare[i];
            const isGlaring = sun && sun.morningMinutes + sun.eveningMinutes >= 5;
            return (
              <tr key={i}>
                <th scope="row">
                  {weekWords(start, i)}
                  {isGlaring && <span className="aside"> low sun in the eyes</span>}
                </th>
                {[week.morning, week.evening].map((part, k) => (
                  <td key={k} className="wind-bar">
                    <span style={{ width: `${100 * share(part)}%` }} />
                    {figure(100 * share(part), 0)} %
                  </td>
                ))}
              </tr>
            );
          })}
        </tbody>
      </table>
    </details>
  );
}
