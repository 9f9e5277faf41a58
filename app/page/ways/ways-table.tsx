import { useState, type ReactElement } from 'react';
import type { ClearingWay, ClearingWays } from '../../../geo/answers/debris-answers.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { debrisQuantity } from '../../words/debris-words.ts';
import { areaQuantity, spoken, type UnitSystem } from '../../words/format.ts';
import { burnText, costText, hoursText, laneText, pushText, sightText, waterText, wayWords } from '../../words/way-words.ts'; // prettier-ignore
import { Said } from '../said.tsx';
import { WayPicture } from './way-picture.tsx';

interface Measure {
  readonly name: string;
  readonly text: (way: ClearingWay, units: UnitSystem, nameOf: (id: string) => string) => string;
  /** Better first when it is sorted by; null for what has no order. */
  readonly worth: ((way: ClearingWay) => number) | null;
}

const measures: readonly Measure[] = [
  {
    name: 'To plant this fall',
    text: (way, units) => spoken(areaQuantity(way.plantableSquareMeters, units)),
    worth: (way) => way.plantableSquareMeters,
  },
  {
    name: 'To plant next fall',
    text: (way, units) => spoken(areaQuantity(way.nextFallSquareMeters, units)),
    worth: (way) => way.nextFallSquareMeters,
  },
  {
    name: 'Ground under it',
    text: (way, units) => spoken(areaQuantity(way.footprintSquareMeters, units)),
    worth: (way) => -way.footprintSquareMeters,
  },
  {
    name: 'No room in reach',
    text: (way, units) =>
      way.leftOverCubicMeters === 0 ? 'none' : spoken(debrisQuantity(way.leftOverCubicMeters, units)), // prettier-ignore
    worth: (way) => -way.leftOverCubicMeters,
  },
  {
    name: 'Machine hours now',
    text: (way) => (way.hours ? hoursText(way.hours) : 'not known'),
    worth: (way) => -(way.hours?.likely ?? Infinity),
  },
  {
    name: 'Hours next year',
    text: (way) => (way.nextYearHours ? hoursText(way.nextYearHours) : 'none'),
    worth: (way) => -(way.nextYearHours?.likely ?? 0),
  },
  {
    name: 'Cost now',
    text: (way) => (way.cost ? costText(way.cost) : 'not known'),
    worth: (way) => -(way.cost?.likely ?? Infinity),
  },
  {
    name: 'Pushed',
    text: (way, units) => pushText(way, units),
    worth: (way) => -(way.meanPushMeters ?? Infinity),
  },
  {
    name: 'Water',
    text: (way, units) => waterText(way, units),
    worth: (way) => -(way.dammedSquareMeters ?? Infinity),
  },
  { name: 'Burning', text: (way, units) => burnText(way, units), worth: null },
  {
    name: 'Seen from the stands',
    text: (way, _units, nameOf) => sightText(way, nameOf),
    worth: (way) => way.seats.reduce((sum, { seenShare }) => sum + seenShare, 0),
  },
  {
    name: 'Lanes from the plot',
    text: (way) => laneText(way),
    worth: (way) => -(way.laneSeenShare ?? Infinity),
  },
];

/** A column for each way, in the order of the measure that was picked. */
export function WaysTable({
  place,
  ways,
  onLay,
}: {
  readonly place: PlanFeature;
  readonly ways: ClearingWays;
  readonly onLay: (way: ClearingWay) => void;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const features = useSession((state) => state.features);
  const [by, setBy] = useState<string | null>(null);
  const worth = measures.find(({ name }) => name === by)?.worth;
  const ordered = worth ? ways.ways.toSorted((a, b) => worth(b) - worth(a)) : ways.ways;
  const nameOf = (id: string) => features[id]?.name || 'a stand';
  const best = (measure: Measure, way: ClearingWay) =>
    measure.worth !== null &&
    ways.ways.every((other) => measure.worth!(way) >= measure.worth!(other)) &&
    ways.ways.some((other) => measure.worth!(way) > measure.worth!(other)); // prettier-ignore
  const fits = ({ features: laid }: ClearingWay) => laid.length > 0;
  // Where it is narrow its parts are laid out otherwise than a table, which takes their roles away.
  return (
    <table className="ways-table narrow" role="table" aria-label="The three ways">
      <thead role="rowgroup">
        <tr role="row" className="ways-pictures">
          <td role="cell" className="ways-corner" />
          {ordered.map((way) => (
            <td role="cell" key={way.way}>
              <WayPicture place={place} way={way} all={ways.ways} />
            </td>
          ))}
        </tr>
        <tr role="row" className="ways-names">
          <td role="cell" className="ways-corner" />
          {ordered.map((way) => (
            <th role="columnheader" scope="col" key={way.way}>
              {wayWords[way.way].name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody role="rowgroup">
        <tr role="row">
          <th role="rowheader" scope="row">
            What it is
          </th>
          {ordered.map((way) => (
            <td role="cell" key={way.way}>
              <Said>{wayWords[way.way].why}</Said>
            </td>
          ))}
        </tr>
        {measures.map((measure) => (
          <tr role="row" key={measure.name}>
            <th
              role="rowheader"
              scope="row"
              aria-sort={by === measure.name ? 'descending' : undefined}
            >
              {measure.worth ? (
                <button
                  type="button"
                  className="ways-sort"
                  aria-pressed={by === measure.name}
                  onClick={() => setBy(by === measure.name ? null : measure.name)}
                >
                  {measure.name}
                </button>
              ) : (
                measure.name
              )}
            </th>
            {ordered.map((way) => (
              <td role="cell" key={way.way} data-best={best(measure, way)}>
                <Said>{fits(way) ? measure.text(way, units, nameOf) : '–'}</Said>
              </td>
            ))}
          </tr>
        ))}
      </tbody>
      <tfoot role="rowgroup">
        <tr role="row" className="ways-lay">
          <td role="cell" className="ways-corner" />
          {ordered.map((way) => (
            <td role="cell" key={way.way}>
              {fits(way) ? (
                <button type="button" className="button" onClick={() => onLay(way)}>
                  Lay it out
                </button>
              ) : (
                'It does not fit here.'
              )}
            </td>
          ))}
        </tr>
      </tfoot>
    </table>
  );
}
