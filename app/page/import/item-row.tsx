import { useEffect, useId, useRef, type ReactElement } from 'react';
import type { DrawingItem } from '../../../geo/formats/vector/drawing-look.ts';
import type { Kind } from '../../../geo/plan/kinds.ts';
import { firstWalkChoices, kindsFor, type ItemPick } from '../../store/bring-in.ts';
import { useSession } from '../../store/use-session.ts';
import { faultWords, itemFacts, skyWords, turnedWords } from '../../words/bring-in-words.ts';
import { kindWords } from '../../words/kind-words.ts';
import { tape } from '../../words/format.ts';
import { bareLengthUnit, parseLength } from '../../words/parse-measure.ts';
import { CheckField, ChoiceField, WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';

/** One feature of a drawing: take it or leave it, and what it becomes. */
export function ItemRow({
  item,
  pick,
  isTapped,
}: {
  readonly item: DrawingItem;
  readonly pick: ItemPick;
  readonly isTapped: boolean;
}): ReactElement {
  const services = useServices();
  const units = useSession((state) => state.settings.units);
  const row = useRef<HTMLLIElement>(null);
  useEffect(() => {
    if (isTapped) row.current?.scrollIntoView({ block: 'nearest' });
  }, [isTapped]);
  const id = useId();
  const { index, type, suggested } = item;
  const name = pick.name ?? item.name;
  const shown = name || `unnamed ${item.sort === 'shape' ? 'shape' : item.sort} ${index + 1}`;
  const turned = turnedWords(type, pick.kind);
  const fault = faultWords(item);
  return (
    <li ref={row} data-taken={pick.taken} data-tapped={isTapped}>
      <label className="bring-in-take">
        <input
          type="checkbox"
          checked={pick.taken}
          onChange={(event) => services.takeItems([index], event.target.checked)}
        />
        <span>
          <span className="bring-in-name">{shown}</span>{' '}
          <span className="aside narrow">{itemFacts(item, pick, units)}</span>
        </span>
      </label>
      {pick.taken && (
        <div className="bring-in-kind">
          <label htmlFor={id} className="out-of-sight">
            {shown} becomes
          </label>
          <select
            id={id}
            className="written narrow"
            value={pick.kind}
            title={suggested.kind === pick.kind ? suggested.why : undefined}
            onChange={(event) => services.setItemKind([index], event.target.value as Kind)}
          >
            {kindsFor(type).map((kind) => (
              <option key={kind} value={kind}>
                {kindWords[kind].one}
              </option>
            ))}
          </select>
          {turned !== '' && <span className="aside narrow">{turned}</span>}
        </div>
      )}
      {pick.taken && fault !== '' && <p className="finding caution">{fault}</p>}
      {pick.taken && item.sort === 'track' && type === 'LineString' && (
        <Walked item={item} pick={pick} />
      )}
    </li>
  );
}

/** A walked track: what cleaning took out, how good it is, and how it was walked. */
function Walked({
  item: { index },
  pick: { clean, cleaned },
}: {
  readonly item: DrawingItem;
  readonly pick: ItemPick;
}): ReactElement {
  const services = useServices();
  const units = useSession((state) => state.settings.units);
  return (
    <div className="bring-in-walked">
      {clean && (
        <ul className="bring-in-notes narrow" aria-live="polite">
          {cleaned ? (
            cleaned.said.map((line) => <li key={line}>{line}</li>)
          ) : (
            <li>Cleaning the track …</li>
          )}
        </ul>
      )}
      <details className="fold">
        <summary className="narrow">How it was walked</summary>
        <CheckField
          label="Take out spikes and wiggles"
          value={clean !== null}
          onValue={(on) => services.setItemClean(index, on ? firstWalkChoices : null)}
        />
        {clean && (
          <>
            <ChoiceField
              label="Walked"
              value={clean.sky}
              options={Object.entries(skyWords)}
              onValue={(sky) =>
                services.setItemClean(index, { ...clean, sky: sky as typeof clean.sky })
              }
            />
            <WrittenField
              label="Straighten wiggles up to"
              shown={tape(clean.jitterMeters, units)}
              read={(text) => {
                const value = parseLength(text, bareLengthUnit(units, false));
                return value !== null && value < 30
                  ? { value }
                  : { wrong: 'Write a width under 100 ft, such as 4 ft 6 in.' };
              }}
              onValue={(jitterMeters) => services.setItemClean(index, { ...clean, jitterMeters })}
              help="3 to 6 ft is common practice."
            />
          </>
        )}
      </details>
    </div>
  );
}
