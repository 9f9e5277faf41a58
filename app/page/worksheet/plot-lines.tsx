import { useMemo, type ReactElement } from 'react';
import type { Plantable } from '../../../geo/answers/answers.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { isOutOfDate } from '../../store/left-undone.ts';
import { useSession } from '../../store/use-session.ts';
import {
  areaQuantity,
  bearing,
  depthQuantity,
  elevationQuantity,
  fallQuantity,
  slopeQuantity,
  spoken,
} from '../../words/format.ts';
import { outlineTrouble } from '../../words/outline-words.ts';
import { takingWords } from '../../words/plantable-words.ts';
import { Figure } from '../quantity.tsx';
import { Said } from '../said.tsx';
import { SlopeBar } from '../slope-classes.tsx';
import { PickFeature } from './pick-feature.tsx';
import { errorOf } from './section-states.ts';

/** One plot of the worksheet: its deciding numbers, its slope classes, and the rest in one line. */
export function PlotLines({ plot }: { readonly plot: PlanFeature<'plot'> }): ReactElement {
  const answers = useSession((state) => state.answers[plot.id]);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const value = answers?.plotGround?.value;
  const terrain = value?.terrain;
  const plantable = answers?.plantable?.value;
  const spots = answers?.plotLowSpots?.value.lowSpots;
  const areSpotsLeft = useSession((state) => isOutOfDate(state, { features: ['plotLowSpots'], id: plot.id })); // prettier-ignore
  const isWithout = value === undefined;
  const trouble = useMemo(() => (isWithout ? outlineTrouble(plot) : null), [isWithout, plot]);
  const deepest = spots?.length ? Math.max(...spots.map((spot) => spot.insideMaxDepthMeters)) : 0;
  return (
    <tbody>
      <tr>
        <th scope="row">
          <PickFeature of={plot} />
        </th>
        <td>
          {value ? (
            <Figure of={areaQuantity(value.areaSquareMeters, units)} />
          ) : trouble ? (
            '—'
          ) : (
            '…'
          )}
        </td>
        <td>{terrain && <Figure of={slopeQuantity(terrain.medianSlope)} />}</td>
        <td>
          {terrain && (
            <b>
              {terrain.fallsTowardDegrees === null ? 'level' : bearing(terrain.fallsTowardDegrees)}
            </b>
          )}
        </td>
      </tr>
      {trouble && (
        <tr className="more">
          <td colSpan={4}>
            <p>
              <Said>{trouble.problem.what}</Said>
            </p>
          </td>
        </tr>
      )}
      {plantable && (
        <tr className="more">
          <td colSpan={4}>
            <ToPlant of={plantable} />
          </td>
        </tr>
      )}
      {terrain && (
        <tr className="more">
          <td colSpan={4}>
            <SlopeBar areas={terrain.slopeClassAreasSquareMeters} units={units} />
            <p className="aside">
              <Said>
                nine tenths under {spoken(slopeQuantity(terrain.percentile90Slope))}, steepest{' '}
                {spoken(slopeQuantity(terrain.greatestSlope))}; falls{' '}
                {spoken(fallQuantity(terrain.fallMeters, error, units))} from{' '}
                {spoken(elevationQuantity(terrain.highestMeters, error, units))}
                {spots && spots.length > 0 && (
                  <>
                    ; {spots.map((spot) => spot.id).join(', ')} to{' '}
                    {spoken(depthQuantity(deepest, error, units))} deep when full
                    {areSpotsLeft && ' (as it was before)'}
                  </>
                )}
              </Said>
            </p>
          </td>
        </tr>
      )}
    </tbody>
  );
}

/** "2.74 ac to plant: no-go ground 0.20 ac, berm 0.12 ac off". */
function ToPlant({ of }: { readonly of: Plantable }): ReactElement {
  const settings = useSession((state) => state.settings);
  const { units } = settings;
  const off = of.taken.map(({ reason, areaSquareMeters }) => {
    const words = takingWords(reason, settings).toLowerCase();
    return `${words} ${spoken(areaQuantity(areaSquareMeters, units))}`;
  });
  return (
    <p className="aside">
      <Said>
        <Figure of={areaQuantity(of.plantableSquareMeters, units)} /> to plant
        {off.length > 0 ? `; taken off: ${off.join(', ')}` : ', all of it'}
      </Said>
    </p>
  );
}
