import { useMemo, useState, type ReactElement } from 'react';
import type { ClearingWay, ClearingWays } from '../../../geo/answers/debris-answers.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { debrisText } from '../../words/debris-words.ts';
import { lengthQuantity, spoken } from '../../words/format.ts';
import { CheckField } from '../fields.tsx';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Dialog } from '../opening/dialog.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { takenPlaceOf } from '../../services/way-place.ts';
import { CautionLines } from '../worksheet/caution-lines.tsx';
import { HourlyRateField } from '../worksheet/hourly-rate-field.tsx';
import { WaysTable } from './ways-table.tsx';
import './ways.css';

/** The three ways to lay the debris of one plot or clearing, drawn to one scale and side by side. */
export function WaysDialog(): ReactElement {
  const services = useServices();
  const features = useSession((state) => state.features);
  const answers = useSession((state) => state.answers);
  const selectedId = useSession((state) => state.selectedId);
  const places = useMemo(
    () => Object.values(features).filter(({ id }) => answers[id]?.clearingWays),
    [features, answers],
  );
  const [chosen, setChosen] = useState(selectedId);
  const place = places.find(({ id }) => id === chosen) ?? places[0];
  const ways = place && answers[place.id]?.clearingWays;
  return (
    <Dialog title="Three ways to lay the debris" closable onLeave={() => services.leaveDesk()}>
      <div className="ways">
        {places.length > 1 && (
          <div className="ways-places" role="group" aria-label="Where">
            {places.map(({ id, name }) => (
              <button
                key={id}
                type="button"
                className="button"
                aria-pressed={id === place?.id}
                onClick={() => setChosen(id)}
              >
                {name || 'unnamed'}
              </button>
            ))}
          </div>
        )}
        {place && ways ? (
          <Ways place={place} ways={ways.value} />
        ) : (
          <p>
            Draw a plot or a clearing over timber blocks whose trees are tallied, and the three ways
            are laid out here.
          </p>
        )}
        {ways && <HowWorkedOut basis={ways.basis} />}
        <CautionLines names={['clearing', 'burn', 'berm']} />
      </div>
    </Dialog>
  );
}

function Ways({
  place,
  ways,
}: {
  readonly place: PlanFeature;
  readonly ways: ClearingWays;
}): ReactElement {
  const services = useServices();
  const units = useSession((state) => state.settings.units);
  const reach = useSession((state) => state.settings.pushReachMeters);
  const features = useSession((state) => state.features);
  const replaced = useMemo(() => takenPlaceOf(place, features), [place, features]);
  const [takesPlace, setTakesPlace] = useState(true);
  const lay = (way: ClearingWay) => services.layWay(place.id, way.way, takesPlace);
  return (
    <>
      <p>
        <Said>
          On {place.name || 'it'} lies {debrisText(ways.debrisCubicMeters, units)} of loose debris.
          None is pushed farther than {spoken(lengthQuantity(reach, units))}, as set under Clearing.
        </Said>
      </p>
      <div className="ways-asks">
        {replaced.length > 0 && (
          <CheckField
            label={`Take out ${new Intl.ListFormat('en').format(replaced.map(({ name }) => name || 'one unnamed'))}, which it takes the place of`}
            value={takesPlace}
            onValue={setTakesPlace}
          />
        )}
        <HourlyRateField />
      </div>
      <WaysTable place={place} ways={ways} onLay={lay} />
    </>
  );
}
