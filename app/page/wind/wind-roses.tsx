import { useState, type ReactElement } from 'react';
import type { RoseAnswer, SiteWind } from '../../../geo/answers/wind-answers.ts';
import { directions16, figure } from '../../words/format.ts';
import { monthName } from '../../words/wind-words.ts';
import { ChoiceField } from '../fields.tsx';

/** Shares of hours by where the wind comes from, at dawn, midday and dusk or in a month. */
export function WindRoses({ wind }: { readonly wind: SiteWind }): ReactElement {
  const [which, setWhich] = useState('dusk');
  const options: readonly (readonly [string, string, RoseAnswer])[] = [
    ['dawn', 'dawn, in the season', wind.parts.dawn],
    ['midday', 'midday, in the season', wind.parts.midday],
    ['dusk', 'dusk, in the season', wind.parts.dusk],
    ...wind.months.map(({ month, rose }) => [String(month), `${monthName(month)}, legal light`, rose] as const), // prettier-ignore
  ];
  const chosen = options.find(([key]) => key === which) ?? options[0]!;
  const rose = chosen[2];
  const most = Math.max(1, ...rose.directionHours);
  const share = (hours: number) => `${figure((100 * hours) / Math.max(1, rose.hours), 0)} %`;
  return (
    <details className="fold">
      <summary className="narrow">Where it comes from</summary>
      <ChoiceField
        label="When"
        value={which}
        options={options.map(([key, words]) => [key, words] as const)}
        onValue={setWhich}
      />
      <table className="numbers narrow wind-bars">
        <caption className="out-of-sight">Share of hours by direction, {chosen[1]}</caption>
        <tbody>
          {directions16.map((name, i) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td className="wind-bar">
                <span style={{ width: `${(100 * rose.directionHours[i]!) / most}%` }} />
              </td>
              <td>
                <b>{share(rose.directionHours[i]!)}</b>
              </td>
            </tr>
          ))}
          <tr>
            <th scope="row">calm</th>
            <td />
            <td>
              <b>{share(rose.calmHours)}</b>
            </td>
          </tr>
          <tr>
            <th scope="row">variable</th>
            <td />
            <td>
              <b>{share(rose.variableHours)}</b>
            </td>
          </tr>
        </tbody>
      </table>
    </details>
  );
}
