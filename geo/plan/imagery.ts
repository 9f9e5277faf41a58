import * as v from 'valibot';

/** Imagery from an address of the user's own choice, and the order of what lies under the linework. */

const text = (most: number) => v.pipe(v.string(), v.maxLength(most));
const zoom = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(24));
const degrees = (most: number) => v.pipe(v.number(), v.minValue(-most), v.maxValue(most));

export const imageryLayer = v.object({
  id: v.pipe(v.string(), v.regex(/^[a-z0-9-]{1,64}$/, 'not an id')),
  name: v.pipe(text(200), v.minLength(1)),
  /**
   * Address of one tile with the blanks of `geo/formats/imagery/tile-address.ts`. https, because a
   * page that came over https may read nothing else; plain http only from this machine itself.
   */
  template: v.pipe(
    text(4000),
    v.regex(/^(https:\/\/|http:\/\/(127\.0\.0\.1|localhost)[:/])/, 'not an https address'),
  ),
  /** Who is to be named beside it; plain text. */
  attribution: text(500),
  minZoom: zoom,
  maxZoom: zoom,
  tileSize: v.picklist([256, 512]),
  /** [west, south, east, north], degrees; null for the whole world. */
  bounds: v.nullable(v.tuple([degrees(180), degrees(90), degrees(180), degrees(90)])),
  opacity: v.pipe(v.number(), v.minValue(0), v.maxValue(1)),
  shown: v.boolean(),
});

export type ImageryLayer = v.InferOutput<typeof imageryLayer>;
/** A layer as a service offers it, before it is in the plan. */
export type OfferedImagery = Omit<ImageryLayer, 'id' | 'opacity' | 'shown'>;

/** More at once would only hide each other. */
export const imageryList = v.pipe(v.array(imageryLayer), v.maxLength(12));

/** Bottom to top: ids of imagery, and the two that are always there. */
export const layerOrder = v.pipe(v.array(text(64)), v.maxLength(20));

export const photoInOrder = 'photo';
export const reliefInOrder = 'relief';

/**
 * The whole order, bottom to top: as set, unknown ids left out; imagery that it does not name lies
 * lowest (a photo of one's own is finer), then photo, then relief.
 */
export function wholeOrder(set: readonly string[], imagery: readonly ImageryLayer[]): string[] {
  const all = [...imagery.map((layer) => layer.id), photoInOrder, reliefInOrder];
  const named = [...new Set(set)].filter((id) => all.includes(id));
  const missing = all.filter((id) => !named.includes(id));
  const lowest = missing.filter((id) => id !== photoInOrder && id !== reliefInOrder);
  return [...lowest, ...named, ...missing.filter((id) => !lowest.includes(id))];
}
