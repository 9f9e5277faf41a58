import { kindNames, kinds, type GeometryType, type Kind } from '../../plan/kinds.ts';
import { isGroupColumn } from './soil-columns.ts';
import type { FeatureSort, SuggestedKind } from './vector-types.ts';

/** What is known of a feature when its kind is guessed. */
export interface KindClues {
  readonly geometry: GeometryType;
  readonly name: string;
  readonly layer: string;
  readonly sort: FeatureSort;
  readonly columns: readonly string[];
  /** What the attribute `kind` says, as our own files have it; empty where there is none. */
  readonly ownKind: string;
  /** A line whose ends nearly meet. */
  readonly isLoop: boolean;
}

/** Words of the trade that name a kind, most telling first; the geometry must fit too. */
const WORDS: readonly (readonly [Kind, RegExp])[] = [
  ['access-point', /\b(gate|entrance|parking|trailhead)/],
  ['culvert', /\bculvert/],
  ['outlet', /\b(outlet|outfall|drain pipe)/],
  ['ditch', /\b(ditch|swale|drain)/],
  ['power-line', /\b(power|electric|transmission|overhead|utility) ?line|\bkv\b/],
  ['buried-line', /\b(buried|underground|pipeline|gas|fib(er|re)|water ?line|sewer|septic|tile)\b/],
  ['no-go', /\b(wetland|swamp|marsh|bog|no.?go|keep.?out|buffer|flood|easement|protected)/],
  ['bedding-area', /\bbed(ding|s)?\b/],
  ['travel-corridor', /\b(corridor|travel|funnel|pinch|crossing|deer (trail|run))/],
  ['soil-sample', /\b(soil|sample|core)\b/],
  ['soil-area', /\b(soils?|mu(sym|key|name)|hydgrp|map ?unit)\b/],
  ['berm', /\b(berm|windrow|brush ?row|debris row)/],
  ['heap', /\b(heap|brush ?pile|pile|burn)/],
  ['timber-block', /\b(timber|trees|woods?|stand|cut ?block|harvest)\b/],
  ['stand', /\b(stand|blind|ladder|tower|box|seat|saddle|tree)\b/],
  ['clearing', /\b(clearing|clear|opening|doze[rd]?)\b/],
  ['plot', /\b(plot|food|clover|brassica|turnip|bean|corn|oats|rye|wheat|chicory|field)s?\b/],
  ['property-line', /\b(parcel|property|boundary|tract|lot|deed|survey|tax|ownership|acreage)s?\b/],
  ['structure', /\b(house|cabin|barn|shed|building|home|well|creek|stream|river|highway|road)s?\b/],
  ['lane', /\b(lane|trail|path|access|approach|walk|route|drive|two.?track)\b/],
  ['section-line', /\b(section|profile)\b/],
];

/** Columns that only parcel layers have. */
const PARCEL_COLUMN =
  /^(apn|pin|parcel|taxid|tax_id|parcel_?(id|no|num)\w*|gis_?acres?|legal\w*|deed\w*)$/i;
const SOIL_COLUMN = /^(musym|mukey|muname|areasymbol)$/i;

/**
 * A kind to offer first for a feature that comes in, by what our own files say, its columns, the
 * words of its name and folder, and its geometry; the user decides. Always a kind that can be drawn
 * with the geometry, or, for a walked loop, as the outline it encloses.
 */
export function suggestKind(clues: KindClues): SuggestedKind {
  const own = kindNames.find((kind) => kind === clues.ownKind);
  if (own && fits(own, clues.geometry)) return { kind: own, why: 'The file names the kind.' };
  if (clues.geometry === 'Polygon') {
    const group = clues.columns.find(isGroupColumn);
    if (group) return { kind: 'soil-area', why: `It has soil groups (${group.slice(0, 40)}).` };
    if (clues.columns.some((column) => SOIL_COLUMN.test(column))) {
      return { kind: 'soil-area', why: 'It has the columns of a soil map.' };
    }
    if (clues.columns.some((column) => PARCEL_COLUMN.test(column))) {
      return { kind: 'property-line', why: 'It has the columns of a parcel map.' };
    }
  }
  for (const text of [clues.name, clues.layer]) {
    const spaced = text
      .slice(0, 200)
      .replace(/([a-z])([A-Z])/g, '$1 $2')
      .replace(/[_-]+/g, ' ');
    const found = WORDS.find(
      ([kind, words]) => fits(kind, clues.geometry) && words.test(spaced.toLowerCase()),
    );
    if (found) return { kind: found[0], why: `Its name says so: ${text.slice(0, 60)}.` };
  }
  if (clues.geometry === 'Polygon') return { kind: 'plot', why: 'It is an area.' };
  if (clues.geometry === 'Point') return { kind: 'note', why: 'It is a point.' };
  if (clues.isLoop && clues.sort === 'track') {
    return { kind: 'plot', why: 'It was walked round and ends where it began.' };
  }
  return {
    kind: 'lane',
    why: clues.sort === 'shape' ? 'It is a line.' : 'It was walked or planned.',
  };
}

function fits(kind: Kind, geometry: GeometryType): boolean {
  return (kinds[kind].geometry as readonly GeometryType[]).includes(geometry);
}
