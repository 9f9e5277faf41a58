import type { SoilGroup } from '../../plan/kinds.ts';

/**
 * Columns that hold a hydrologic soil group: the public soil survey's `hydgrpdcd` (by dominant
 * condition) and `hydgrp`, and names that maps made from it give theirs.
 */
const GROUP_COLUMN = /^(hydgrp\w*|hydrolgrp\w*|hyd(ro)?(logic)?_?(soil_?)?(grp?|group)\w*|hsg)$/i;
const NAME_COLUMNS = ['muname', 'compname', 'soil_name', 'soilname', 'musym'];

export function isGroupColumn(column: string): boolean {
  return GROUP_COLUMN.test(column);
}

/**
 * The group that a value names: a letter from A to D, alone or as a dual group of drained and
 * undrained (`B/D`, also written `B-D` or `BD`); null for what names none (blank, water, urban land).
 * Examples: "c/d" is C/D, "Group B" is B, "W" is none.
 */
export function readSoilGroup(value: string | number): SoilGroup | null {
  const text = String(value)
    .trim()
    .toUpperCase()
    .replace(/^GROUP\s+/, '');
  const found = /^([ABCD])(?:\s*[/-]?\s*(D))?$/.exec(text);
  if (!found) return null;
  const [, first, undrained] = found as unknown as [string, string, string | undefined];
  if (undrained === undefined || first === 'D') return first as SoilGroup;
  return `${first}/D` as SoilGroup;
}

/** What a soil polygon's columns say of its group and its name. */
export function soilOfColumns(attributes: Readonly<Record<string, string | number>>): {
  readonly hydrologicGroup: SoilGroup | null;
  readonly series: string;
} {
  const entries = Object.entries(attributes);
  const groups = entries.filter(([column]) => isGroupColumn(column));
  const hydrologicGroup =
    groups.map(([, value]) => readSoilGroup(value)).find((group) => group !== null) ?? null;
  const named = NAME_COLUMNS.map((name) =>
    entries.find(([column, value]) => column.toLowerCase() === name && String(value).trim() !== ''),
  ).find((one) => one !== undefined);
  return { hydrologicGroup, series: named ? String(named[1]).trim().slice(0, 2000) : '' };
}

/** How many of a file's soil polygons name a group, as a note; none where no column could. */
export function soilNotes(
  file: string,
  features: readonly { readonly attributes: Readonly<Record<string, string | number>> }[],
): string[] {
  const soils = features.filter(({ attributes }) => Object.keys(attributes).some(isGroupColumn));
  if (soils.length === 0) return [];
  const known = soils.filter(
    ({ attributes }) => soilOfColumns(attributes).hydrologicGroup !== null,
  );
  const rest = known.length < soils.length ? '; the others take the group set for none drawn' : '';
  return [`${file}: ${known.length} of ${soils.length} soil outlines name their group${rest}.`];
}
