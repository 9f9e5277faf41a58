import { memo, type CSSProperties, type MouseEvent, type ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { sizeQuantity, type FeatureSize } from '../../words/feature-size.ts';
import { keyProperties } from '../../words/key-properties.ts';
import { kindWords } from '../../words/kind-words.ts';
import { editableProperties } from '../../words/property-schema.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { WrittenField } from '../fields.tsx';
import { Figure } from '../quantity.tsx';
import { PropertyField } from '../selected/property-fields.tsx';
import { useServices } from '../services.ts';
import { errorOf } from '../worksheet/section-states.ts';

/** One feature: its name and key properties to write in, its size, and what can be done to it. */
export const TableRow = memo(function TableRow({
  feature,
  size,
  index,
  top,
  height,
  onShow,
}: {
  readonly feature: PlanFeature;
  readonly size: FeatureSize | null;
  /** From 0, among the rows of the filter. */
  readonly index: number;
  readonly top: number;
  readonly height: number;
  readonly onShow: (feature: PlanFeature) => void;
}): ReactElement {
  const services = useServices();
  const { id, kind, name, locked, hidden } = feature;
  const isSelected = useSession(
    (state) =>
      state.selectedId === id || (state.selectedId !== null && state.alsoSelected.includes(id)),
  );
  const what = name || kindWords[kind].one;
  const pick = (event: MouseEvent): void => {
    if (event.target instanceof Element && event.target.closest('input, select, button, label')) {
      return;
    }
    if (event.shiftKey) services.toggleSelected(id);
    else services.select(isSelected ? null : id);
  };
  const style: CSSProperties = { top, height };
  return (
    <div
      className="table-row"
      role="row"
      aria-rowindex={index + 2}
      data-selected={isSelected}
      data-row={index}
      style={style}
      onClick={pick}
    >
      <span role="cell" className="table-pick" data-column="pick">
        <label>
          <input
            type="checkbox"
            aria-label={`Select ${what}`}
            checked={isSelected}
            onChange={() => services.toggleSelected(id)}
          />
        </label>
      </span>
      <span role="cell" className="table-name" data-column="name">
        <WrittenField
          label={`Name of ${what}`}
          large
          shown={name}
          read={(text) =>
            text.trim().length <= 200
              ? { value: text.trim() }
              : { wrong: 'Keep it to 200 letters.' }
          }
          onValue={(next) => services.renameFeature(id, next)}
        />
      </span>
      <span role="cell" className="table-kind narrow">
        {kindWords[kind].one}
      </span>
      <span role="cell" className="table-size narrow">
        {size ? <Size size={size} /> : <span className="aside">no size</span>}
      </span>
      <span role="cell" className="table-properties">
        {keyProperties[kind].map((key) => (
          <span key={key} data-column={key} className="table-property">
            <PropertyField
              feature={feature}
              property={editableProperties(kind).find((property) => property.key === key)!}
            />
          </span>
        ))}
      </span>
      <span role="cell" className="table-tools">
        <RowButton column="lock" on={locked} about={what} onPress={setLocked}>
          Lock
        </RowButton>
        <RowButton column="hide" on={hidden} about={what} onPress={setHidden}>
          Hide
        </RowButton>
        <span data-column="show">
          <button
            type="button"
            className="button"
            aria-label={`On map: ${what}`}
            onClick={() => onShow(feature)}
          >
            On map
          </button>
        </span>
      </span>
    </div>
  );

  function setLocked(): void {
    services.setLocked([id], !locked);
  }
  function setHidden(): void {
    services.setHidden([id], !hidden);
  }
});

function RowButton({
  column,
  on,
  about,
  onPress,
  children,
}: {
  readonly column: string;
  readonly on: boolean;
  readonly about: string;
  readonly onPress: () => void;
  readonly children: string;
}): ReactElement {
  return (
    <span data-column={column}>
      <button
        type="button"
        className="button"
        aria-pressed={on}
        aria-label={`${children} ${about}`}
        onClick={onPress}
      >
        {children}
      </button>
    </span>
  );
}

function Size({ size }: { readonly size: FeatureSize }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  return <Figure of={sizeQuantity(size, error, units)} />;
}
