import type { Map as MapLibreMap } from 'maplibre-gl';
import type { Bounds } from './raster-layers.ts';

export interface Insets {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
  /** What lies over the upper left corner: the cross and what is fitted keep clear of it. */
  readonly corner?: { readonly right: number; readonly bottom: number } | null;
}

/**
 * Insets as padding, given up where they would leave nothing to fit into. The furniture (scale and north
 * arrow) stands on the lower inset, so that much more is taken there.
 */
export function roomFor(
  container: Pick<HTMLElement, 'clientWidth' | 'clientHeight'>,
  insets: Insets,
  furnitureHeight: number,
): Insets {
  const margin = 24;
  const padded = {
    top: insets.top + margin,
    right: insets.right + margin,
    bottom: insets.bottom + furnitureHeight + margin,
    left: insets.left + margin,
  };
  const fits =
    container.clientWidth - padded.left - padded.right > 80 &&
    container.clientHeight - padded.top - padded.bottom > 80;
  return fits ? padded : { top: margin, right: margin, bottom: margin, left: margin };
}

/** Insets of what is to be seen whole: below the bar of a drawing too, where that leaves room. */
export function roomToFit(
  container: Pick<HTMLElement, 'clientWidth' | 'clientHeight'>,
  insets: Insets,
  furnitureHeight: number,
): Insets {
  const top = Math.max(insets.top, insets.corner?.bottom ?? 0);
  const below = roomFor(container, { ...insets, top }, furnitureHeight);
  return below.top > top ? below : roomFor(container, insets, furnitureHeight);
}

/** True where the whole of it is seen, clear of what lies over the map. */
export function isInSight(
  map: Pick<MapLibreMap, 'project' | 'getContainer'>,
  [west, south, east, north]: Bounds,
  room: Insets,
): boolean {
  const { clientWidth, clientHeight } = map.getContainer();
  const topLeft = map.project([west, north]);
  const bottomRight = map.project([east, south]);
  return (
    topLeft.x >= room.left &&
    topLeft.y >= room.top &&
    bottomRight.x <= clientWidth - room.right &&
    bottomRight.y <= clientHeight - room.bottom
  );
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/**
 * How far the map has to go, in pixels right and down, for a point of it to come out from under what
 * lies over it: panels at its rims (`insets`), furniture in the lower left corner between them. Null
 * where it is clear, or out of the map altogether. `room` is where it may come to stand.
 */
export function shiftOutOfCover(
  { x, y }: { readonly x: number; readonly y: number },
  map: Size,
  {
    insets,
    furniture,
    room,
  }: { readonly insets: Insets; readonly furniture: Size; readonly room: Insets },
): readonly [number, number] | null {
  if (x < 0 || y < 0 || x > map.width || y > map.height) return null;
  const bottom = map.height - insets.bottom;
  const isUnderFurniture = x < insets.left + furniture.width && y > bottom - furniture.height;
  const isUnderPanel = x < insets.left || x > map.width - insets.right || y < insets.top || y > bottom; // prettier-ignore
  if (!isUnderFurniture && !isUnderPanel) return null;
  const within = (at: number, least: number, most: number) => Math.min(Math.max(at, least), most) - at; // prettier-ignore
  return [
    within(x, room.left, map.width - room.right),
    within(y, room.top, map.height - room.bottom),
  ];
}
