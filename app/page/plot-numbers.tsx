import type { ReactElement } from 'react';
import type { PlotGround, PlotLowSpots, PlotStorm } from '../../geo/answers/answers.ts';
import { useSession } from '../store/use-session.ts';
import {
  areaQuantity,
  bearing,
  compassWord,
  depthQuantity,
  elevationQuantity,
  fallQuantity,
  lengthQuantity,
  shareQuantity,
  slopeQuantity,
  spoken,
} from '../words/format.ts';
import { plotStormText } from '../words/water-words.ts';
import { LeftUndone } from './left/left-undone.tsx';
import { LongWait } from './left/long-wait.tsx';
import { Figure } from './quantity.tsx';
import { Row, Rows } from './row.tsx';
import { Said } from './said.tsx';
import { SlopeClasses } from './slope-classes.tsx';
import { errorOf } from './worksheet/section-states.ts';

/** Every number of one plot, as the worksheet and the panel show them. */
export function PlotNumbers({
  id,
  plot,
  lowSpots,
  storm,
}: {
  readonly id: string;
  readonly plot: PlotGround;
  /** Undefined until the low spots of the whole site are known. */
  readonly lowSpots: PlotLowSpots | undefined;
  readonly storm: PlotStorm | undefined;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const terrain = plot.terrain;
  return (
    <>
      <Rows>
        <Row label="Area">
          <Figure of={areaQuantity(plot.areaSquareMeters, units)} />
        </Row>
        <Row label="Around it">
          <Figure of={lengthQuantity(plot.perimeterMeters, units)} />
        </Row>
        {terrain && (
          <>
            <Row label="Slope, median">
              <Figure of={slopeQuantity(terrain.medianSlope)} />
            </Row>
            <Row label="Nine tenths lie under">
              <Figure of={slopeQuantity(terrain.percentile90Slope)} />
            </Row>
            <Row label="Steepest">
              <Figure of={slopeQuantity(terrain.greatestSlope)} />
            </Row>
            <Row label="Highest">
              <Figure of={elevationQuantity(terrain.highestMeters, error, units)} />
            </Row>
            <Row label="Lowest">
              <Figure of={elevationQuantity(terrain.lowestMeters, error, units)} />
            </Row>
            <Row label="Falls">
              <Figure of={fallQuantity(terrain.fallMeters, error, units)} />{' '}
              {terrain.fallsTowardDegrees === null ? (
                'no telling which way'
              ) : (
                <span title={`to the ${compassWord(terrain.fallsTowardDegrees)}`}>
                  to <b>{bearing(terrain.fallsTowardDegrees)}</b>
                </span>
              )}
            </Row>
          </>
        )}
      </Rows>
      {terrain ? (
        <>
          <SlopeClasses areas={terrain.slopeClassAreasSquareMeters} units={units} />
          <LeftUndone of={{ features: ['plotStorm', 'plotLowSpots'], id }}>
            {storm && (
              <p className="narrow aside-line">
                <Said>
                  In this rain: <b>{plotStormText(storm, error, units)}</b>
                </Said>
              </p>
            )}
            <LowSpotsInside of={lowSpots} />
          </LeftUndone>
          {terrain.coveredShare < 0.9995 && (
            <p className="narrow aside-line">
              <Said>
                Slopes are for the {spoken(shareQuantity(terrain.coveredShare))} of it that has
                elevation.
              </Said>
            </p>
          )}
        </>
      ) : (
        <p className="narrow aside-line">There is no elevation under it: open the ground first.</p>
      )}
    </>
  );
}

function LowSpotsInside({ of }: { readonly of: PlotLowSpots | undefined }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  if (!of) return <LongWait of={{ site: ['lowSpots'] }} doing="Looking for low spots" />;
  if (of.lowSpots.length === 0) {
    return (
      <p className="narrow aside-line">No low spots inside it, at the depth that is listed.</p>
    );
  }
  return (
    <table className="numbers narrow">
      <caption className="out-of-sight">Low spots inside the plot, filled until they spill</caption>
      <thead>
        <tr>
          <th scope="col">Low spot</th>
          <th scope="col">when full</th>
          <th scope="col">inside</th>
        </tr>
      </thead>
      <tbody>
        {of.lowSpots.map((spot) => (
          <tr key={spot.id}>
            <th scope="row">{spot.id}</th>
            <td>
              <Figure of={depthQuantity(spot.insideMaxDepthMeters, error, units)} />
            </td>
            <td>
              <Figure of={areaQuantity(spot.insideAreaSquareMeters, units)} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
