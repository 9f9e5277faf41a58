import type { Map as MapLibreMap } from 'maplibre-gl';
import { drawPattern, patternNames } from './patterns.ts';
import type { Picture } from './picture.ts';
import { drawSymbol, symbolNames } from './symbols.ts';

/** Gives the map every pattern and symbol that marks name, as fine as the screen. */
export function addImages(map: Pick<MapLibreMap, 'addImage'>, pixelRatio: number): void {
  const add = (name: string, picture: Picture): void => {
    map.addImage(name, picture, { pixelRatio: picture.pixelRatio });
  };
  for (const name of patternNames) add(name, drawPattern(name, pixelRatio));
  for (const name of symbolNames) {
    add(name, drawSymbol(name, false, pixelRatio));
    add(`${name}-flag`, drawSymbol(name, true, pixelRatio));
  }
}
