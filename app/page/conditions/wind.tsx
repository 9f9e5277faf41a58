import type { ReactElement } from 'react';
import {
  metersPerSecondFromMilesPerHour,
  milesPerHourFromMetersPerSecond,
} from '../../../geo/frame/units.ts';
import { useSession } from '../../store/use-session.ts';
import { bearing, compassWord, spoken, windSpeedQuantity } from '../../words/format.ts';
import type { Verdict } from '../../../geo/wind/wind-verdict.ts';
import { verdictWords } from '../../words/wind-words.ts';
import { LeftUndone } from '../left/left-undone.tsx';
import { Figure } from '../quantity.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { Scale, type Graduation } from './scale.tsx';

const letters = ['N', 'E', 'S', 'W', 'N'];
const bearings: readonly Graduation[] = Array.from({ length: 17 }, (_, index) => ({
  at: index * 22.5,
  length: index % 4 === 0 ? 'long' : index % 2 === 0 ? 'middle' : 'short',
  ...(index % 4 === 0 ? { word: letters[index / 4]! } : {}),
}));

function strengths(most: number): readonly Graduation[] {
  const step = most / 6;
  return Array.from({ length: 7 }, (_, index) => ({
    at: index * step,
    length: index % 3 === 0 ? 'long' : 'short',
    ...(index % 3 === 0 ? { word: String(index * step) } : {}),
  }));
}
const milesPerHour = strengths(30);
const metersPerSecond = strengths(12);

/** Where the wind blows from, on a straight scale from north round to north, and how hard. */
export function Wind(): ReactElement {
  const wind = useSession((state) => state.conditions.wind);
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const metric = units === 'metric';
  const from = wind.fromDegrees;
  const calm = wind.speedMetersPerSecond === 0;
  const speed = windSpeedQuantity(wind.speedMetersPerSecond, units);
  const shownSpeed = metric
    ? wind.speedMetersPerSecond
    : milesPerHourFromMetersPerSecond(wind.speedMetersPerSecond);
  const turn = (fromDegrees: number, phase: 'moving' | 'set'): void =>
    services.setConditions({ wind: { ...wind, fromDegrees: fromDegrees % 360 } }, phase);
  const blow = (value: number, phase: 'moving' | 'set'): void =>
    services.setConditions(
      {
        wind: {
          ...wind,
          speedMetersPerSecond: metric ? value : metersPerSecondFromMilesPerHour(value),
        },
      },
      phase,
    );
  return (
    <div className="condition" data-condition="wind">
      <div className="condition-head">
        <h2>Wind</h2>
        <span className="narrow condition-value">
          {calm ? (
            <b>calm</b>
          ) : (
            <>
              <b>{from === null ? 'variable' : bearing(from)}</b> <Figure of={speed} />
            </>
          )}
        </span>
      </div>
      <div className="two-scales">
        <Scale
          label="Wind direction"
          look="ruled"
          least={0}
          most={360}
          step={5}
          turnsBy={45}
          value={from ?? 0}
          said={from === null ? 'variable' : `from the ${compassWord(from)}, ${Math.round(from)}°`}
          graduations={bearings}
          onMove={(value) => turn(value, 'moving')}
          onSet={(value) => turn(value, 'set')}
        />
        <Scale
          label="Wind strength"
          look="ruled strength"
          least={0}
          most={metric ? 12 : 30}
          step={metric ? 0.5 : 1}
          value={shownSpeed}
          said={calm ? 'calm' : spoken(speed)}
          graduations={metric ? metersPerSecond : milesPerHour}
          onMove={(value) => blow(value, 'moving')}
          onSet={(value) => blow(value, 'set')}
        />
      </div>
      <Reads />
    </div>
  );
}

/** What this wind at this hour means for the stands, in a line. */
function Reads(): ReactElement {
  const stands = useSession((state) => state.site.standWinds?.value.stands);
  const features = useSession((state) => state.features);
  const ids = Object.keys(stands ?? {});
  if (!stands || ids.length === 0) return <p className="reads narrow">No stand is set yet.</p>;
  const names = (verdict: Verdict) =>
    ids
      .filter((id) => stands[id]!.verdict === verdict)
      .map((id) => features[id]?.name || 'a stand');
  const parts = (['works', 'marginal', 'does-not'] as const).flatMap((verdict) => {
    const list = names(verdict);
    if (list.length === 0) return [];
    const shown =
      list.length > 4 ? `${list.length} stands` : new Intl.ListFormat('en').format(list);
    return [`${shown} ${list.length > 1 ? pluralVerdicts[verdict] : singleVerdicts[verdict]}`];
  });
  return (
    <LeftUndone of={{ site: ['standWinds'] }}>
      <p className="reads narrow">
        <Said>{parts.join('; ')}.</Said>
      </p>
    </LeftUndone>
  );
}

const singleVerdicts: Readonly<Record<Verdict, string>> = {
  ...verdictWords,
  marginal: 'is marginal',
};

const pluralVerdicts: Readonly<Record<Verdict, string>> = {
  works: 'work',
  marginal: 'are marginal',
  'does-not': 'do not work',
};
