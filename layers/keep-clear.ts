import type { Map as MapLibreMap } from 'maplibre-gl';
import { shiftOutOfCover, type Insets } from './fit-room.ts';

type Place = readonly [number, number];

/**
 * Keeps one place from lying under the panels and the scale: looked at when it is named and whenever the
 * panels change, until the map is moved by hand.
 */
export class KeepClear {
  readonly #map: MapLibreMap;
  readonly #furniture: HTMLElement;
  readonly #covers: () => { readonly insets: Insets; readonly room: Insets };
  #place: Place | null = null;

  constructor(
    map: MapLibreMap,
    furniture: HTMLElement,
    covers: () => { readonly insets: Insets; readonly room: Insets },
  ) {
    this.#map = map;
    this.#furniture = furniture;
    this.#covers = covers;
    map.on('movestart', (event) => {
      if (event.originalEvent) this.#place = null;
    });
  }

  keep(place: Place | null): void {
    this.#place = place;
    this.look();
  }

  look(): void {
    if (!this.#place) return;
    const { clientWidth, clientHeight } = this.#map.getContainer();
    const { offsetWidth, offsetHeight } = this.#furniture;
    const shift = shiftOutOfCover(
      this.#map.project([this.#place[0], this.#place[1]]),
      { width: clientWidth, height: clientHeight },
      { ...this.#covers(), furniture: { width: offsetWidth, height: offsetHeight } },
    );
    if (shift) this.#map.panBy([-shift[0], -shift[1]], { duration: 500 });
  }
}
