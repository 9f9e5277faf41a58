import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { measureFrom, measureHint, measureText } from '../../words/measure-text.ts';
import { editableProperties, type EditableProperty } from '../../words/property-schema.ts';
import { choiceWords, propertyWords } from '../../words/property-words.ts';
import { CheckField, ChoiceField, WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';
import { GapList } from './gap-list.tsx';
import { TallyList } from './tally-list.tsx';

/** The editable properties of a feature, one field for each that its kind's schema names. */
export function PropertyFields({ feature }: { readonly feature: PlanFeature }): ReactElement {
  return (
    <div className="properties">
      {editableProperties(feature.kind).map((property) => (
        <PropertyField key={property.key} feature={feature} property={property} />
      ))}
    </div>
  );
}

export function PropertyField({
  feature,
  property: { key, editor },
}: {
  readonly feature: PlanFeature;
  readonly property: EditableProperty;
}): ReactElement | null {
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const words = propertyWords(feature.kind, key);
  const value = (feature.properties as Readonly<Record<string, unknown>>)[key];
  const set = (next: unknown): void => services.setProperty(feature.id, key, next);

  switch (editor.edit) {
    case 'choice': {
      const none: readonly (readonly [string, string])[] = editor.nullable ? [['', 'not set']] : [];
      return (
        <ChoiceField
          label={words.label}
          value={typeof value === 'string' ? value : ''}
          options={[...none, ...editor.options.map((o) => [o, choiceWords(o)] as const)]}
          onValue={(next) => set(next === '' ? null : next)}
        />
      );
    }
    case 'yes-no':
      return <CheckField label={words.label} value={value === true} onValue={set} />;
    case 'text':
      return (
        <WrittenField<string | null>
          label={words.label}
          shown={typeof value === 'string' ? value : ''}
          read={(text) => ({ value: text.trim() === '' && editor.nullable ? null : text.trim() })}
          onValue={set}
          help={words.help}
        />
      );
    case 'number':
      return (
        <WrittenField<number | null>
          label={words.label}
          shown={typeof value === 'number' ? measureText(value, words, units) : ''}
          read={(text) => {
            if (text.trim() === '' && editor.nullable) return { value: null };
            const read = measureFrom(text, words, units);
            return read === null ? { wrong: measureHint(words, units) } : { value: read };
          }}
          onValue={set}
          help={words.help}
        />
      );
    case 'list':
      return feature.kind === 'berm' ? (
        <GapList feature={feature as PlanFeature<'berm'>} />
      ) : (
        <TallyList feature={feature as PlanFeature<'timber-block'>} />
      );
  }
}
