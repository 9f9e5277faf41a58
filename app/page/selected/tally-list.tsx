import type { ReactElement } from 'react';
import type { SpeciesGroup, TallyRow } from '../../../geo/debris/timber-mass.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { speciesWords } from '../../words/debris-words.ts';
import {
  diameterText,
  NEW_DIAMETER,
  readDiameter,
  readShare,
  readStems,
  shareText,
  stemsText,
} from '../../words/tally-words.ts';
import { ChoiceField, WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';
import { TallyBasal } from './tally-basal.tsx';
import { TallyStrip } from './tally-strip.tsx';

const speciesOptions = Object.entries(speciesWords);

/** The trees of a block: stems of each species group and thickness, and what of them is sold. */
export function TallyList({
  feature,
}: {
  readonly feature: PlanFeature<'timber-block'>;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const { tally } = feature.properties;
  const put = (next: readonly TallyRow[]) => services.setProperty(feature.id, 'tally', next);
  const change = (index: number, part: Partial<TallyRow>) =>
    put(tally.map((row, at) => (at === index ? { ...row, ...part } : row)));
  const add = (row: TallyRow) => put([...tally, row]);
  return (
    <fieldset className="gaps tally">
      <legend className="narrow">Tree tally</legend>
      {tally.map((row, index) => (
        <div className="gap" role="group" aria-label={`Row ${index + 1}`} key={index}>
          <ChoiceField
            label="Trees"
            value={row.speciesGroup}
            options={speciesOptions}
            onValue={(value) => change(index, { speciesGroup: value as SpeciesGroup })}
          />
          <WrittenField
            label="Diameter at breast height"
            shown={diameterText(row.diameterMeters, units)}
            inputMode="decimal"
            read={(text) => readDiameter(text, units)}
            onValue={(diameterMeters) => change(index, { diameterMeters })}
          />
          <WrittenField
            label="Stems"
            shown={stemsText(row.stemsPerHectare, units)}
            inputMode="decimal"
            read={(text) => readStems(text, units)}
            onValue={(stemsPerHectare) => change(index, { stemsPerHectare })}
          />
          <WrittenField
            label="Sold, of what stands above ground"
            shown={shareText(row.soldShare)}
            inputMode="decimal"
            read={readShare}
            onValue={(soldShare) => change(index, { soldShare })}
          />
          <button
            type="button"
            className="text-button narrow"
            onClick={() => put(tally.filter((_, at) => at !== index))}
          >
            Take this row out
          </button>
        </div>
      ))}
      <button
        type="button"
        className="text-button narrow"
        onClick={() =>
          add({
            speciesGroup: tally.at(-1)?.speciesGroup ?? 'mixed-hardwood',
            diameterMeters: NEW_DIAMETER,
            stemsPerHectare: 0,
            soldShare: 0,
          })
        }
      >
        Add a row
      </button>
      <TallyStrip feature={feature} />
      <TallyBasal onRow={add} />
    </fieldset>
  );
}
