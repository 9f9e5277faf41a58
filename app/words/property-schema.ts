import { kinds, type Kind } from '../../geo/plan/kinds.ts';

/** How a property can be edited, read from the kind's own schema. */
export type PropertyEditor =
  | { readonly edit: 'choice'; readonly options: readonly string[]; readonly nullable: boolean }
  | { readonly edit: 'yes-no' }
  | { readonly edit: 'text'; readonly nullable: boolean }
  | { readonly edit: 'number'; readonly nullable: boolean }
  | { readonly edit: 'list' };

export interface EditableProperty {
  readonly key: string;
  readonly editor: PropertyEditor;
}

/** The parts of a schema that are looked at; every valibot schema has `type`. */
interface Schema {
  readonly type: string;
  readonly wrapped?: Schema;
  readonly options?: readonly string[];
}

/** The properties of a kind, in the order of its schema. */
export function editableProperties(kind: Kind): readonly EditableProperty[] {
  const entries = kinds[kind].properties.entries as unknown as Readonly<Record<string, Schema>>;
  return Object.entries(entries).map(([key, schema]) => ({ key, editor: editorOf(schema, false) }));
}

/** Throws RangeError for a schema that no editor is known for: the kinds test walks them all. */
function editorOf(schema: Schema, nullable: boolean): PropertyEditor {
  switch (schema.type) {
    case 'optional':
      return editorOf(schema.wrapped!, nullable);
    case 'nullable':
      return editorOf(schema.wrapped!, true);
    case 'picklist':
      return { edit: 'choice', options: schema.options ?? [], nullable };
    case 'boolean':
      return { edit: 'yes-no' };
    case 'string':
      return { edit: 'text', nullable };
    case 'number':
      return { edit: 'number', nullable };
    case 'array':
      return { edit: 'list' };
    default:
      throw new RangeError(`editorOf: no editor for a schema of type ${schema.type}`);
  }
}
