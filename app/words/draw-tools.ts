import { kinds, kindNames, type GeometryType, type Kind } from '../../geo/plan/kinds.ts';
import type { SectionName } from '../store/session.ts';
import { kindWords } from './kind-words.ts';

/** Where a tool stands: with the section of the worksheet that it is for; lines of others apart. */
export type ToolGroup = SectionName | 'lines';

/** One way to draw one kind. */
export interface DrawTool {
  /** "plot", or with the shape where a kind has several: "heap-outline". */
  readonly name: string;
  readonly kind: Kind;
  readonly type: GeometryType;
  /** "Food plot"; "Brush pile, outline" where a kind has several shapes. */
  readonly label: string;
  readonly group: ToolGroup;
  /** What comes of drawing it, one sentence. */
  readonly why: string;
  /** What to do while it is drawn. */
  readonly how: string;
}

interface KindTool {
  readonly group: ToolGroup;
  readonly why: string;
  /** In place of the general words for its shape. */
  readonly how?: string;
}

/** In the order of the job. */
const byKind: Readonly<Record<Kind, KindTool>> = {
  plot: {
    group: 'ground',
    why: 'Outline the ground to plant: acres, slope and low spots follow at once.',
  },
  'property-line': {
    group: 'ground',
    why: 'The edge of the tract, which nothing drawn should cross.',
  },
  'section-line': {
    group: 'ground',
    why: 'See the ground from the side along any line.',
  },
  structure: {
    group: 'ground',
    why: 'Buildings, wells, roads and streams that are there already.',
  },
  'no-go': {
    group: 'ground',
    why: 'Ground to keep out of, with its reason; it comes off the plantable acres.',
  },
  note: {
    group: 'ground',
    why: 'A flag with a few words: soft ground, rock, a stump.',
  },
  clearing: {
    group: 'clearing',
    why: 'The ground that is opened, or was.',
  },
  'timber-block': {
    group: 'clearing',
    why: 'Timber of one sort: what comes off and what stays standing.',
  },
  ditch: {
    group: 'water',
    why: 'The way out for the water.',
    how: 'Tap along it downhill, from where it takes the water. Finish where it lets go.',
  },
  outlet: {
    group: 'water',
    why: 'Where the water leaves and does no harm.',
  },
  culvert: {
    group: 'water',
    why: 'A pipe under a track or berm.',
    how: 'Tap the end that takes the water, then the end that lets it out. Then Finish.',
  },
  'soil-area': {
    group: 'water',
    why: 'Ground of one soil: how fast it takes water.',
  },
  berm: {
    group: 'debris',
    why: 'Lay the line the debris will be pushed to: length and stations follow.',
    how: 'Tap along the line, from station 0+00. Tap the last point again or Finish to end it.',
  },
  heap: {
    group: 'debris',
    why: 'A brush pile; its ground comes off the plantable acres.',
  },
  'soil-sample': {
    group: 'planting',
    why: 'Where a soil sample was taken, with its bag number.',
  },
  stand: {
    group: 'stands',
    why: 'Set the seat: its elevation follows.',
    how: 'Tap where the seat is.',
  },
  lane: {
    group: 'stands',
    why: 'The way in to a stand.',
    how: 'Tap along it, from the access point to the stand. Then Finish.',
  },
  'access-point': {
    group: 'stands',
    why: 'Where truck, machine or boots come in.',
  },
  'bedding-area': {
    group: 'stands',
    why: 'Where deer lie by day: scent and noise should stay off it.',
  },
  'travel-corridor': {
    group: 'stands',
    why: 'The way deer walk.',
    how: 'Tap along it, the way they walk in the evening. Then Finish.',
  },
  'power-line': {
    group: 'lines',
    why: 'Overhead wires, which no machine or seat may come near.',
  },
  'buried-line': {
    group: 'lines',
    why: 'What lies in the ground, before anybody digs.',
  },
};

const shapeWords: Readonly<Record<GeometryType, string>> = {
  Point: 'spot',
  LineString: 'line',
  Polygon: 'outline',
};

const howWords: Readonly<Record<GeometryType, string>> = {
  Point: 'Tap its place.',
  LineString: 'Tap along the line. Tap the last point again or Finish to end it.',
  Polygon: 'Tap each corner. Tap the first corner again or Finish to close it.',
};

/** Every kind of the schema, with each of its shapes, in the order of the job. */
export const drawTools: readonly DrawTool[] = (Object.keys(byKind) as Kind[]).flatMap((kind) =>
  kinds[kind].geometry.map((type, at): DrawTool => {
    const { group, why, how } = byKind[kind];
    const only = kinds[kind].geometry.length === 1;
    return {
      name: at === 0 ? kind : `${kind}-${shapeWords[type]}`,
      kind,
      type,
      label: only ? kindWords[kind].one : `${kindWords[kind].one}, ${shapeWords[type]}`,
      group,
      why,
      // What a kind says of its own drawing is said of its first shape.
      how: (at === 0 && how) || howWords[type],
    };
  }),
);

export const toolGroups: readonly (readonly [ToolGroup, string])[] = [
  ['ground', 'Ground'],
  ['clearing', 'Clearing'],
  ['water', 'Water'],
  ['debris', 'Debris'],
  ['planting', 'Planting'],
  ['stands', 'Stands'],
  ['lines', 'Power and buried lines'],
];

export function toolsOf(group: ToolGroup): readonly DrawTool[] {
  return drawTools.filter((tool) => tool.group === group);
}

/** The tool that draws a kind in a shape; the kind's first shape where none is named. */
export function toolFor(kind: Kind, type?: GeometryType): DrawTool {
  const found = drawTools.find((tool) => tool.kind === kind && (!type || tool.type === type));
  if (!found) throw new RangeError(`toolFor: no ${kind} is drawn as ${type}`);
  return found;
}

/** Properties that a new feature of a kind cannot do without; the panel asks for them at once. */
export const firstProperties: Partial<Record<Kind, Readonly<Record<string, unknown>>>> = {
  'no-go': { reason: 'other' },
};

/** Kinds that are drawn as areas, for what makes an area of something else. */
export const areaKinds: readonly Kind[] = kindNames.filter((kind) =>
  (kinds[kind].geometry as readonly GeometryType[]).includes('Polygon'),
);
