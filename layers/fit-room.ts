import type { Map as MapLibreMap } from 'maplibre-gl';
import type { Insets } from './map-controller.ts';
import type { Bounds } from './raster-layers.ts';

/** Insets as padding, given up where they would leave nothing to fit into. */
export function roomFor(container: HTMLElement, insets: Insets): Insets {
  const margin = 24;
  const padded = {
    top: insets.top + margin,
    right: insets.right + margin,
    bottom: insets.bottom + margin,
    left: insets.left + margin,
  };
  const fits =
    container.clientWidth - padded.left - padded.right > 80 &&
    container.clientHeight - padded.top - padded.bottom > 80;
  return fits ? padded : { top: margin, right: margin, bottom: margin, left: margin };
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
