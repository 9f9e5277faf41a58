import type { BringPick, WalkChoices } from '../../geo/formats/vector/bring-in.ts';
import { defaultCleanChoices } from '../../geo/formats/vector/clean-choices.ts';
import type {
  DrawingItem,
  DrawingLook,
  LookBounds,
} from '../../geo/formats/vector/drawing-look.ts';
import type { PlanGeometry } from '../../geo/plan/feature.ts';
import { kindNames, kinds, type GeometryType, type Kind } from '../../geo/plan/kinds.ts';
import type { CleanedLook } from '../workers/messages.ts';

/**
 * A drawing before it is brought in: what the user takes of it and as what. Plain values; each
 * function gives the next one.
 */
export interface BringIn {
  /** Of the file, or how many files. */
  readonly name: string;
  readonly look: DrawingLook;
  /** Whether it meets the site that is open. */
  readonly where: 'here' | 'elsewhere' | 'elsewhere-than-demo';
  readonly keepPersonal: boolean;
  /** By the place of the item. */
  readonly picks: readonly ItemPick[];
  /** Column that the names of a group come from, by the group's place; none is the drawing's own. */
  readonly nameFrom: Readonly<Record<number, string>>;
  /** Item that was tapped on the map, for the list to show. */
  readonly tapped: number | null;
}

export interface ItemPick {
  readonly taken: boolean;
  readonly kind: Kind;
  /** In place of the drawing's own name. */
  readonly name: string | null;
  /** Null for what is no walked track, and for a track that is left as it was walked. */
  readonly clean: WalkChoices | null;
  /** What cleaning gave, for the kind and choices above; null while that is not known. */
  readonly cleaned: CleanedLook | null;
}

const { sky, jitterMeters } = defaultCleanChoices;
export const firstWalkChoices: WalkChoices = { sky, jitterMeters };

/** A whole county is not a site plan: of so many in one group only those at the site are taken. */
const MANY_IN_GROUP = 50;
/** Without a site to go by, none of so many. */
const MANY = 500;

/** The drawing as it was read: everything taken, or of very many what lies at the site. */
export function beginBringIn(
  name: string,
  look: DrawingLook,
  open: { readonly site: LookBounds | null; readonly isDemo: boolean },
): BringIn {
  const isHere = open.site === null || meets(look.bounds, open.site);
  const where = isHere ? 'here' : open.isDemo ? 'elsewhere-than-demo' : 'elsewhere';
  const site = isHere ? open.site : null;
  const inGroup = look.groups.map(() => 0);
  for (const { group } of look.items) inGroup[group]!++;
  const picks = look.items.map((item): ItemPick => {
    const isNear = site !== null && meets(item.bounds, site);
    const isOneOfMany =
      site === null ? look.items.length > MANY : inGroup[item.group]! > MANY_IN_GROUP;
    return {
      taken: isOneOfMany ? isNear : true,
      kind: item.suggested.kind,
      name: null,
      clean: item.sort === 'track' && item.type === 'LineString' ? firstWalkChoices : null,
      cleaned: null,
    };
  });
  return { name, look, where, keepPersonal: false, picks, nameFrom: {}, tapped: null };
}

/** The same drawing read anew, with or without its personal columns; choices stay. */
export function readAnew(bring: BringIn, look: DrawingLook, keepPersonal: boolean): BringIn {
  return { ...bring, look, keepPersonal, nameFrom: {}, picks: bring.picks.map(withoutName) };
}

/** Kinds that a feature of a geometry can become: its own shape, a line its outline, and back. */
export function kindsFor(type: GeometryType): readonly Kind[] {
  const shapes: readonly GeometryType[] = type === 'Point' ? ['Point'] : ['LineString', 'Polygon'];
  return kindNames.filter((kind) => kinds[kind].geometry.some((shape) => shapes.includes(shape)));
}

/** Whether a feature becomes another shape: "closed" for a line, "line" for an outline. */
export function turnsInto(type: GeometryType, kind: Kind): GeometryType {
  const allowed: readonly GeometryType[] = kinds[kind].geometry;
  return allowed.includes(type) ? type : allowed.find((shape) => shape !== 'Point')!;
}

export function take(bring: BringIn, which: readonly number[], taken: boolean): BringIn {
  return change(bring, which, (pick) => (pick.taken === taken ? pick : { ...pick, taken }));
}

/** A tap on the map takes it, or leaves it. */
export function tapItem(bring: BringIn, index: number): BringIn {
  const pick = bring.picks[index];
  return pick ? { ...take(bring, [index], !pick.taken), tapped: index } : bring;
}

/** Those of them that cannot become the kind stay what they were. */
export function setKind(bring: BringIn, which: readonly number[], kind: Kind): BringIn {
  return change(bring, which, (pick, item) => {
    if (pick.kind === kind || !kindsFor(item.type).includes(kind)) return pick;
    const isSame = turnsInto(item.type, kind) === turnsInto(item.type, pick.kind);
    return { ...pick, kind, cleaned: isSame ? pick.cleaned : null };
  });
}

/** Null leaves the track as it was walked. */
export function setClean(bring: BringIn, index: number, clean: WalkChoices | null): BringIn {
  return change(bring, [index], (pick) => ({ ...pick, clean, cleaned: null }));
}

/** What cleaning gave; it is dropped where the choices have changed meanwhile. */
export function setCleaned(
  bring: BringIn,
  index: number,
  of: Pick<ItemPick, 'kind' | 'clean'>,
  cleaned: CleanedLook | null,
): BringIn {
  return change(bring, [index], (pick) =>
    pick.clean === of.clean && pick.kind === of.kind ? { ...pick, cleaned } : pick,
  );
}

/** Names of a group from one of its columns; the column '' gives the drawing's own back. */
export function setNames(
  bring: BringIn,
  group: number,
  column: string,
  names: Readonly<Record<number, string>>,
): BringIn {
  const which = itemsOf(bring, group).map(({ index }) => index);
  const named = change(bring, which, (pick, { index }) => ({
    ...pick,
    name: column === '' ? null : (names[index] ?? null),
  }));
  return { ...named, nameFrom: { ...bring.nameFrom, [group]: column } };
}

export function itemsOf({ look }: BringIn, group: number): readonly DrawingItem[] {
  return look.items.filter((item) => item.group === group);
}

/** The kind that all of them share; null where there are several. */
export function commonKind(bring: BringIn, items: readonly DrawingItem[]): Kind | null {
  const first = items[0] && bring.picks[items[0].index]!.kind;
  return first && items.every(({ index }) => bring.picks[index]!.kind === first) ? first : null;
}

export function takenCount({ picks }: BringIn): number {
  return picks.reduce((count, pick) => count + (pick.taken ? 1 : 0), 0);
}

/** The first track that is taken and whose cleaning is not known yet. */
export function nextToClean({ picks }: BringIn): number | null {
  const index = picks.findIndex((pick) => pick.taken && pick.clean !== null && !pick.cleaned);
  return index < 0 ? null : index;
}

/** What goes to the worker when the user is done. */
export function chosen({ picks }: BringIn): readonly BringPick[] {
  return picks.flatMap(({ taken, kind, name, clean }, index) =>
    taken ? [{ index, kind, name, clean }] : [],
  );
}

/** What the map shows of it: taken, left, or a track as it was walked under its cleaned line. */
export interface PreviewMark {
  readonly index: number;
  readonly role: 'taken' | 'left' | 'walked';
  readonly geometry: PlanGeometry;
}

export function previewMarks({ look, picks }: BringIn): readonly PreviewMark[] {
  return picks.flatMap(({ taken, cleaned }, index): PreviewMark[] => {
    const shape = look.shapes[index] ?? null;
    const walked: PreviewMark[] = shape ? [{ index, role: 'walked', geometry: shape }] : [];
    if (taken && cleaned) return [...walked, { index, role: 'taken', geometry: cleaned.geometry }];
    return shape ? [{ index, role: taken ? 'taken' : 'left', geometry: shape }] : [];
  });
}

function change(
  bring: BringIn,
  which: readonly number[],
  next: (pick: ItemPick, item: DrawingItem) => ItemPick,
): BringIn {
  const picks = [...bring.picks];
  for (const index of which) picks[index] = next(picks[index]!, bring.look.items[index]!);
  return { ...bring, picks };
}

function withoutName(pick: ItemPick): ItemPick {
  return pick.name === null ? pick : { ...pick, name: null };
}

function meets(a: LookBounds, b: LookBounds): boolean {
  return a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
}
