import type { Kind } from '../../geo/plan/kinds.ts';

/** What the trade calls each kind of feature, and the short prefix of names given on drawing. */
export const kindWords: Readonly<Record<Kind, { readonly one: string; readonly many: string }>> = {
  'property-line': { one: 'Property line', many: 'Property lines' },
  plot: { one: 'Food plot', many: 'Food plots' },
  clearing: { one: 'Clearing', many: 'Clearings' },
  'timber-block': { one: 'Timber block', many: 'Timber blocks' },
  berm: { one: 'Berm', many: 'Berms' },
  heap: { one: 'Brush pile', many: 'Brush piles' },
  stand: { one: 'Stand', many: 'Stands' },
  lane: { one: 'Approach lane', many: 'Approach lanes' },
  'access-point': { one: 'Access point', many: 'Access points' },
  'bedding-area': { one: 'Bedding area', many: 'Bedding areas' },
  'travel-corridor': { one: 'Travel corridor', many: 'Travel corridors' },
  'no-go': { one: 'No-go ground', many: 'No-go ground' },
  ditch: { one: 'Ditch', many: 'Ditches' },
  outlet: { one: 'Outlet', many: 'Outlets' },
  culvert: { one: 'Culvert', many: 'Culverts' },
  'power-line': { one: 'Power line', many: 'Power lines' },
  'buried-line': { one: 'Buried line', many: 'Buried lines' },
  structure: { one: 'Structure', many: 'Structures' },
  'soil-sample': { one: 'Soil sample', many: 'Soil samples' },
  'soil-area': { one: 'Soil area', many: 'Soil areas' },
  'section-line': { one: 'Section line', many: 'Section lines' },
  note: { one: 'Note', many: 'Notes' },
};

/** The kind to be said behind a name, as in "High edge, berm"; nothing where the name says it. */
export function kindBehind(name: string, kind: string): string {
  const word = kind.toLowerCase();
  return name.toLowerCase().includes(word) ? '' : word;
}
