import type { ReactElement } from 'react';
import type { StormPool } from '../../../geo/answers/answers.ts';
import type { SpotDetail } from '../../../geo/answers/flow-answers.ts';
import { useSession } from '../../store/use-session.ts';
import { curveTicks, depthEnd, depthUnit, volumeEnd, volumeUnit } from '../../words/curve-ticks.ts';
import { areaQuantity, depthQuantity, spoken, volumeQuantity } from '../../words/format.ts';
import { Figure } from '../quantity.tsx';
import { Said } from '../said.tsx';
import { errorOf } from './section-states.ts';

/** Of the plot itself, and of what stands beside it: figures to the left and below. */
const [wide, tall] = [270, 120];
const [left, below] = [34, 34];

/** How it fills: held against depth, with where this rain stands; and the same as a table. */
export function SpotCurve({
  spot: { id, stages },
  pool,
}: {
  readonly spot: SpotDetail;
  readonly pool: StormPool | undefined;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const brim = stages.at(-1)!;
  const x = (volume: number) => (brim.volumeCubicMeters > 0 ? (volume / brim.volumeCubicMeters) * wide : 0); // prettier-ignore
  const y = (depth: number) => tall - (depth / brim.depthMeters) * tall;
  const path = stages
    .map(({ volumeCubicMeters, depthMeters }) => `${x(volumeCubicMeters)},${y(depthMeters)}`)
    .join(' ');
  const depths = curveTicks(depthEnd(brim.depthMeters, units));
  const volumes = curveTicks(volumeEnd(brim.volumeCubicMeters, units));
  const held = spoken(volumeQuantity(brim.volumeCubicMeters, units));
  const deep = spoken(depthQuantity(brim.depthMeters, error, units));
  const stands = pool && pool.volumeCubicMeters > 0 ? pool : null;
  return (
    <figure className="spot-curve">
      <svg
        viewBox={`${-left} -8 ${left + wide + 14} ${tall + below + 8}`}
        role="img"
        aria-label={`How ${id} fills: ${held} at ${deep}, brim full`}
      >
        {depths.map(({ at, text }) => (
          <g key={text} transform={`translate(0 ${tall * (1 - at)})`}>
            <path d={`M0 0 H${wide}`} className="curve-rule" />
            <text x="-6" y="5" textAnchor="end">
              {text}
            </text>
          </g>
        ))}
        {volumes.map(({ at, text }) => (
          <g key={text} transform={`translate(${wide * at} ${tall})`}>
            <path d="M0 0 V5" stroke="currentColor" />
            <text y="19" textAnchor="middle">
              {text}
            </text>
          </g>
        ))}
        <path d={`M0 0 V${tall} H${wide}`} fill="none" stroke="currentColor" />
        <polyline points={path} fill="none" stroke="currentColor" strokeWidth="2" />
        {stands && (
          <circle
            cx={x(stands.volumeCubicMeters)}
            cy={y(Math.min(brim.depthMeters, stands.maxDepthMeters))}
            r="5"
            className="spot-now"
          />
        )}
      </svg>
      <figcaption className="narrow aside">
        <Said>
          Depth, {depthUnit(units)} (up), against what it holds, {volumeUnit(units)} (right), to{' '}
          {deep} and {held} brim full{stands && '; the dot is this rain'}.
        </Said>
      </figcaption>
      <details className="fold">
        <summary className="narrow">Read it as a table</summary>
        <table className="numbers narrow">
          <thead>
            <tr>
              <th scope="col">Deep</th>
              <th scope="col">covers</th>
              <th scope="col">holds</th>
            </tr>
          </thead>
          <tbody>
            {stages.slice(1).map((stage) => (
              <tr key={stage.depthMeters}>
                <td>
                  <Figure of={depthQuantity(stage.depthMeters, null, units)} />
                </td>
                <td>
                  <Figure of={areaQuantity(stage.areaSquareMeters, units)} />
                </td>
                <td>
                  <Figure of={volumeQuantity(stage.volumeCubicMeters, units)} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  );
}
