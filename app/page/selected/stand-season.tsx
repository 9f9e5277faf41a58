import type { ReactElement } from 'react';
import type { StandOverSeason } from '../../../geo/answers/wind-answers.ts';
import type { VerdictHours } from '../../../geo/wind/stand-season.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { directions16, figure } from '../../words/format.ts';
import { reasonText, seasonSentence, verdictWords, weekWords } from '../../words/wind-words.ts'; // prettier-ignore
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
  const hours = ({ works, marginal, doesNot }: VerdictHours) => figure((works + marginal + doesNot) / seasons, 0); // prettier-ignore
  const row = (i: number) => of.season.directions[i]!;
  return (
    <table className="numbers narrow">
      <caption className="out-of-sight">By wind, in hours of one season</caption>
      <thead>
        <tr>
          <th scope="col">Wind</th>
          <th scope="col" className="words">
            verdict
          </th>
          <th scope="col">dawn h</th>
          <th scope="col">dusk h</th>
        </tr>
      </thead>
      <tbody>
        {of.directions.map(({ verdict, reached }, i) => (
          <tr key={directions16[i]}>
            <th scope="row" className="whole">
              {directions16[i]}
            </th>
            <td className="words">
              <Said>
                <b>{verdictWords[verdict]}</b>{' '}
                <span className="aside">
                  {reasonText(reached, (id) => features[id]?.name || 'something unnamed', units)}
                </span>
              </Said>
            </td>
            <td>{hours(row(i).morning)}</td>
            <td>{hours(row(i).evening)}</td>
          </tr>
        ))}
        <tr>
          <th scope="row" className="whole">
            calm
          </th>
          <td className="words">as the slope’s air goes</td>
          <td>{hours(of.season.calm.morning)}</td>
          <td>{hours(of.season.calm.evening)}</td>
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
