import { gatherGeometry, type GeometryGatherer } from './kml-geometry.ts';
import type { RawFeature } from './raw-feature.ts';
import { takeFeatures, type Limits } from './vector-error.ts';
import type { XmlHandler } from './walk-xml.ts';

/** Elements that show or load something else than a drawing; counted and left out. */
export const LEFT_OUT = {
  NetworkLink: ['link to another file or server', 'links to other files or servers'],
  GroundOverlay: ['picture laid over the ground', 'pictures laid over the ground'],
  ScreenOverlay: ['picture on the screen', 'pictures on the screen'],
  PhotoOverlay: ['photo', 'photos'],
  Model: ['three-dimensional model', 'three-dimensional models'],
  Tour: ['tour', 'tours'],
} as const;
export type LeftOut = keyof typeof LEFT_OUT;

interface Container {
  readonly tag: string;
  readonly depth: number;
  name: string;
  readonly above: Container | null;
}

interface Placemark {
  readonly depth: number;
  readonly container: Container | null;
  readonly geometry: GeometryGatherer;
  name: string;
  description: string;
  readonly fields: { readonly key: string; readonly value: string; readonly schema: string }[];
}

export interface KmlReading extends XmlHandler {
  readonly leftOut: ReadonlyMap<LeftOut, number>;
  /** Called once, at the end: names of folders and types of fields may stand after their use. */
  features(): RawFeature[];
}

const NUMBER_TYPES = new Set(['int', 'uint', 'short', 'ushort', 'float', 'double']);

/** Gathers the placemarks of a KML file, with their folders and extended data. */
export function kmlHandler(limits: Limits): KmlReading {
  const leftOut = new Map<LeftOut, number>();
  const placemarks: Placemark[] = [];
  /** Types of fields by schema and name. */
  const types = new Map<string, string>();
  let container: Container | null = null;
  let placemark: Placemark | null = null;
  let schema = '';
  let field = '';
  let skippedFrom = -1;

  const closeInPlacemark = (mark: Placemark, tag: string, text: string, depth: number) => {
    if (mark.geometry.isInside) mark.geometry.close(tag, text, depth);
    else if (depth === mark.depth + 1) {
      if (tag === 'name') mark.name = text;
      else if (tag === 'description') mark.description = text;
      else if (tag === 'address' || tag === 'phoneNumber') push(mark, tag, text, '');
      else if (tag === 'Snippet' || tag === 'snippet') push(mark, 'snippet', text, '');
    } else if (tag === 'value') push(mark, field, text, '');
    else if (tag === 'SimpleData') push(mark, field, text, schema);
    else if (tag === 'when') push(mark, 'when', text, '');
  };

  return {
    leftOut,
    open(tag, attributes, depth) {
      if (skippedFrom >= 0) return;
      if (Object.hasOwn(LEFT_OUT, tag)) {
        leftOut.set(tag as LeftOut, (leftOut.get(tag as LeftOut) ?? 0) + 1);
        skippedFrom = depth;
      } else if (placemark !== null) {
        placemark.geometry.open(tag, depth);
        if (tag === 'Data' || tag === 'SimpleData') field = attributes.name ?? '';
        else if (tag === 'SchemaData') schema = (attributes.schemaUrl ?? '').replace(/^.*#/, '');
      } else if (tag === 'Placemark') {
        takeFeatures(limits, 1);
        const geometry = gatherGeometry(limits);
        placemark = { depth, container, geometry, name: '', description: '', fields: [] };
      } else if (tag === 'Folder' || tag === 'Document') {
        container = { tag, depth, name: '', above: container };
      } else if (tag === 'Schema') schema = attributes.id ?? attributes.name ?? '';
      else if (tag === 'SimpleField') {
        types.set(`${schema}\n${attributes.name ?? ''}`, attributes.type ?? '');
      }
    },
    close(tag, text, depth) {
      if (skippedFrom >= 0) {
        if (depth === skippedFrom) skippedFrom = -1;
      } else if (placemark !== null) {
        if (depth === placemark.depth) {
          placemarks.push(placemark);
          placemark = null;
        } else closeInPlacemark(placemark, tag, text, depth);
      } else if (container !== null) {
        if (depth === container.depth) container = container.above;
        else if (tag === 'name' && depth === container.depth + 1) container.name = text;
      }
    },
    features: () => placemarks.map((mark) => featureOf(mark, types)),
  };
}

function push(mark: Placemark, key: string, text: string, schema: string): void {
  const value = text.trim();
  if (key !== '' && value !== '') mark.fields.push({ key, value: value.slice(0, 2000), schema });
}

function featureOf(mark: Placemark, types: ReadonlyMap<string, string>): RawFeature {
  return {
    name: mark.name,
    description: mark.description,
    attributes: mark.fields.map(({ key, value, schema }) => {
      const isNumber = NUMBER_TYPES.has(types.get(`${schema}\n${key}`) ?? '');
      return [key, isNumber && Number.isFinite(Number(value)) ? Number(value) : value];
    }),
    layer: layerOf(mark.container),
    sort: mark.geometry.hasTrack ? 'track' : 'shape',
    parts: mark.geometry.parts,
  };
}

/** Folders from the outside in; the document's own name only where there is no folder. */
function layerOf(container: Container | null): string {
  const folders: string[] = [];
  let document = '';
  for (let at = container; at !== null && folders.length < 8; at = at.above) {
    const name = at.name.trim().slice(0, 100);
    if (at.tag === 'Folder' && name !== '') folders.unshift(name);
    else if (at.tag === 'Document' && document === '') document = name;
  }
  return folders.length > 0 ? folders.join(' / ') : document;
}
