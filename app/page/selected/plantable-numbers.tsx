import type { ReactElement } from 'react';
import type { Plantable } from '../../../geo/answers/answers.ts';
import { useSession } from '../../store/use-session.ts';
import { areaQuantity, shareQuantity, spoken } from '../../words/format.ts';
import { kindBehind } from '../../words/kind-words.ts';
import { readSlope, slopeText, takingWords } from '../../words/plantable-words.ts';
import { CheckField, WrittenField } from '../fields.tsx';
import { Figure } from '../quantity.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';

/** The acres to plant, what was taken off for them in order, and what counts as too steep. */
export function PlantableNumbers({ of }: { readonly of: Plantable }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const judged = of.steepJudgedShare;
  const isBurnt = of.nextFallSquareMeters !== of.plantableSquareMeters;
  return (
    <section className="plantable" aria-label="To plant">
      <p className="to-plant">
        <Said>
          <Figure of={areaQuantity(of.plantableSquareMeters, units)} /> to plant
          {isBurnt && ' this fall'}
        </Said>
      </p>
      {isBurnt && (
        <p className="narrow">
          <Said>
            <b>{spoken(areaQuantity(of.nextFallSquareMeters, units))}</b> next fall, when what is to
            burn has burned and what the fire leaves is heaped.
          </Said>
        </p>
      )}
      {of.taken.length === 0 ? (
        <p className="narrow aside-line">
          All of it: no no-go ground, structure, berm, brush pile or steep ground takes any.
        </p>
      ) : (
        <Taken of={of} />
      )}
      {judged !== null && judged < 0.9995 && (
        <p className="narrow aside-line">
          <Said>
            {judged === 0
              ? 'No steep ground was taken off: there is no elevation under it.'
              : `Steep ground is known for the ${spoken(shareQuantity(judged))} of the rest that has elevation.`}
          </Said>
        </p>
      )}
      <SteepLimit />
    </section>
  );
}

function Taken({ of }: { readonly of: Plantable }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const settings = useSession((state) => state.settings);
  const features = useSession((state) => state.features);
  const draft = useSession((state) => state.draft);
  const services = useServices();
  return (
    <table className="numbers narrow taken">
      <caption className="narrow aside">
        Taken off its {spoken(areaQuantity(of.areaSquareMeters, units))}, in this order
      </caption>
      <tbody>
        {of.taken.map(({ reason, featureId, areaSquareMeters }) => {
          const words = takingWords(reason, settings);
          const drawn = draft?.id === featureId ? draft : features[featureId ?? ''];
          return (
            <tr key={featureId ?? reason}>
              <th scope="row">
                {featureId === null ? (
                  words
                ) : (
                  <button
                    type="button"
                    className="text-button"
                    onClick={() => services.select(featureId)}
                  >
                    {drawn?.name || words}
                    {drawn?.name && <span className="aside"> {kindBehind(drawn.name, words)}</span>}
                  </button>
                )}
              </th>
              <td>
                <Figure of={areaQuantity(areaSquareMeters, units)} />
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function SteepLimit(): ReactElement {
  const isTaken = useSession((state) => state.settings.takeOffTooSteep);
  const limit = useSession((state) => state.settings.tooSteepSlope);
  const services = useServices();
  return (
    <details className="fold">
      <summary className="narrow">
        {isTaken ? `Over ${slopeText(limit)} is too steep` : 'Steep ground is planted too'}
      </summary>
      <CheckField
        label="Take off steep ground"
        value={isTaken}
        onValue={(value) => services.setSetting('takeOffTooSteep', value)}
      />
      {isTaken && (
        <WrittenField
          label="Too steep from"
          shown={slopeText(limit)}
          inputMode="decimal"
          read={readSlope}
          onValue={(value) => services.setSetting('tooSteepSlope', value)}
          help="For every plot. Over 10 % a seedbed washes (common practice)."
        />
      )}
    </details>
  );
}
