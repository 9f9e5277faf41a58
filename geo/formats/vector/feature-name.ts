import { plainName } from './plain-text.ts';
import { isPersonalColumn } from './personal-columns.ts';

/** Columns that hold a feature's name, best first; then what a parcel is numbered by. */
const NAMES = [
  'name',
  'title',
  'label',
  'sitename',
  'fieldname',
  'plotname',
  'unitname',
  'muname',
  'musym',
];
const NUMBERS = ['parcelid', 'parcelno', 'parcelnum', 'parcel', 'apn', 'pin', 'taxid', 'lot', 'id'];

/**
 * The name of a feature that has none of its own, from its attributes, as one line of plain text;
 * empty where no column looks like a name. A personal column is never a name.
 */
export function nameFromAttributes(
  attributes: readonly (readonly [string, string | number])[],
): string {
  const columns = new Map<string, string>();
  for (const [column, value] of attributes) {
    const key = column.toLowerCase().replace(/[^a-z0-9]/g, '');
    const name = plainName(String(value));
    if (name !== '' && !isPersonalColumn(column) && !columns.has(key)) columns.set(key, name);
  }
  for (const key of [...NAMES, ...NUMBERS]) {
    const name = columns.get(key);
    if (name !== undefined) return name;
  }
  return '';
}
