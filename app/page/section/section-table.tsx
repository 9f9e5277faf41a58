import { useState, type ReactElement } from 'react';
import type { SectionLine } from '../../../geo/answers/answers.ts';
import { useSession } from '../../store/use-session.ts';
import {
  elevationQuantity,
  errorQuantity,
  lengthQuantity,
  spoken,
  station,
} from '../../words/format.ts';
import { errorOf } from '../worksheet/section-states.ts';
import { heightAt } from './along-line.ts';
import { slopeWords } from './slope-words.ts';
import { straightRuns } from './straight-runs.ts';

/** A table longer than this is not read through. */
const mostRows = 24;

/** The section as a table of straight runs: all that the chart shows, in words and numbers. */
export function SectionTable({
  surface,
  open,
}: {
  readonly surface: NonNullable<SectionLine['surface']>;
  readonly open: boolean;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const [isOpen, setOpen] = useState(open);
  const { stationsMeters, elevationsMeters, stretchToleranceMeters } = surface;
  const shown = isOpen || open;
  const { runs, toleranceMeters } = shown
    ? straightRuns(stationsMeters, elevationsMeters, stretchToleranceMeters, mostRows)
    : { runs: [], toleranceMeters: stretchToleranceMeters };
  const height = (at: number): string =>
    spoken(elevationQuantity(heightAt(stationsMeters, elevationsMeters, at), error, units));
  return (
    <details className="fold" open={shown} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Read it as a table</summary>
      <table>
        <caption className="aside">
          Straight runs; the ground strays from them by at most{' '}
          {spoken(errorQuantity(toleranceMeters, units))}.
        </caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col">To</th>
            <th scope="col">Length</th>
            <th scope="col">Elevation from</th>
            <th scope="col">to</th>
            <th scope="col">Slope</th>
          </tr>
        </thead>
        <tbody>
          {runs.map((run) => (
            <tr key={run.fromStationMeters}>
              <th scope="row">{station(run.fromStationMeters, units)}</th>
              <td>{station(run.toStationMeters, units)}</td>
              <td>{spoken(lengthQuantity(run.toStationMeters - run.fromStationMeters, units))}</td>
              <td>{height(run.fromStationMeters)}</td>
              <td>{height(run.toStationMeters)}</td>
              <td>{slopeWords(run.slope)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
