import { useId, useState, type ReactElement } from 'react';
import type { DrawingItem } from '../../../geo/formats/vector/drawing-look.ts';
import { commonKind, itemsOf, kindsFor, type BringIn } from '../../store/bring-in.ts';
import { countWords, groupTitle } from '../../words/bring-in-words.ts';
import { figure } from '../../words/format.ts';
import { kindWords } from '../../words/kind-words.ts';
import { ChoiceField } from '../fields.tsx';
import { useServices } from '../services.ts';
import { ItemRow } from './item-row.tsx';

/** So many rows are shown at once; a county is paged through. */
const SHOWN = 40;

/** One layer of a drawing: what goes for all of it, then each feature. */
export function GroupList({
  bringing,
  place,
}: {
  readonly bringing: BringIn;
  readonly place: number;
}): ReactElement {
  const services = useServices();
  const [shown, setShown] = useState(SHOWN);
  const [sought, setSought] = useState('');
  const { look, picks, tapped } = bringing;
  const group = look.groups[place]!;
  const items = itemsOf(bringing, place);
  const all = items.map(({ index }) => index);
  const taken = all.filter((index) => picks[index]!.taken).length;
  const title = groupTitle(group, look.files.length === 1);
  const found = matching(bringing, items, sought);
  const tappedItem = items.find(({ index }) => index === tapped);
  const rows = found.slice(0, shown);
  // What was tapped on the map stands first where it would not be seen.
  const first = tappedItem && !rows.includes(tappedItem) ? [tappedItem] : [];
  return (
    <section className="bring-in-group" aria-label={title}>
      <TakeAll
        title={title}
        words={countWords(items)}
        state={taken === 0 ? 'none' : taken === all.length ? 'all' : 'some'}
        onTake={(take) => services.takeItems(all, take)}
      />
      {items.length > 1 && (
        <GroupKind
          items={items}
          kind={commonKind(bringing, items) ?? ''}
          onKind={(kind) => services.setItemKind(all, kind)}
        />
      )}
      {group.columns.length > 0 && (
        <ChoiceField
          label="Names from"
          value={bringing.nameFrom[place] ?? ''}
          options={[
            ['', 'the drawing’s own'],
            ...group.columns.map((column) => [column, column] as const),
          ]}
          onValue={(column) => services.nameItemsFrom(place, column)}
        />
      )}
      {items.length > SHOWN && <Seek value={sought} onValue={setSought} />}
      <ul>
        {[...first, ...rows].map((item) => (
          <ItemRow
            key={item.index}
            item={item}
            pick={picks[item.index]!}
            isTapped={item.index === tapped}
          />
        ))}
      </ul>
      {found.length > shown && (
        <button
          type="button"
          className="text-button narrow"
          onClick={() => setShown(shown + SHOWN)}
        >
          Show more of {figure(found.length, 0)}
        </button>
      )}
    </section>
  );
}

function TakeAll({
  title,
  words,
  state,
  onTake,
}: {
  readonly title: string;
  readonly words: string;
  readonly state: 'none' | 'some' | 'all';
  readonly onTake: (take: boolean) => void;
}): ReactElement {
  return (
    <label className="bring-in-all">
      <input
        type="checkbox"
        checked={state === 'all'}
        ref={(box) => {
          if (box) box.indeterminate = state === 'some';
        }}
        onChange={() => onTake(state !== 'all')}
      />
      <span>
        <b>{title}</b> <span className="aside narrow">{words}</span>
      </span>
    </label>
  );
}

function GroupKind({
  items,
  kind,
  onKind,
}: {
  readonly items: readonly DrawingItem[];
  readonly kind: string;
  readonly onKind: (kind: ReturnType<typeof kindsFor>[number]) => void;
}): ReactElement {
  const kinds = [...new Set(items.flatMap(({ type }) => kindsFor(type)))];
  const several: readonly (readonly [string, string])[] = kind === '' ? [['', 'several']] : [];
  return (
    <ChoiceField
      label="All of it becomes"
      value={kind}
      options={[...several, ...kinds.map((one) => [one, kindWords[one].one] as const)]}
      onValue={(next) => {
        const chosen = kinds.find((one) => one === next);
        if (chosen) onKind(chosen);
      }}
    />
  );
}

function Seek({
  value,
  onValue,
}: {
  readonly value: string;
  readonly onValue: (value: string) => void;
}): ReactElement {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>Find by name</label>
      <input
        id={id}
        className="written"
        type="search"
        value={value}
        onChange={(event) => onValue(event.target.value)}
      />
    </div>
  );
}

function matching(
  { picks }: BringIn,
  items: readonly DrawingItem[],
  sought: string,
): readonly DrawingItem[] {
  const text = sought.trim().toLowerCase();
  if (text === '') return items;
  return items.filter(({ index, name }) =>
    (picks[index]!.name ?? name).toLowerCase().includes(text),
  );
}
