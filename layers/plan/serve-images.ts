import type { Map as MapLibreMap } from 'maplibre-gl';
import { drawPattern, patternNames, type PatternName } from './patterns.ts';
import type { Picture } from './picture.ts';
import { drawSymbol, symbolNames, type SymbolName } from './symbols.ts';

const flagged = '-flag';

/** The picture that a mark names, or null where there is none of that name. */
export function pictureOf(name: string, pixelRatio: number): Picture | null {
  if ((patternNames as readonly string[]).includes(name)) {
    return drawPattern(name as PatternName, pixelRatio);
  }
  const selected = name.endsWith(flagged);
  const symbol = selected ? name.slice(0, -flagged.length) : name;
  if (!(symbolNames as readonly string[]).includes(symbol)) return null;
  return drawSymbol(symbol as SymbolName, selected, pixelRatio);
}

/** Draws patterns and symbols when the map first asks for them, as fine as the screen. */
export function serveImages(
  map: Pick<MapLibreMap, 'addImage' | 'hasImage' | 'setMissingStyleImageResolver'>,
  pixelRatio: number,
): void {
  map.setMissingStyleImageResolver(async (id) => {
    const picture = map.hasImage(id) ? null : pictureOf(id, pixelRatio);
    if (picture) map.addImage(id, picture, { pixelRatio: picture.pixelRatio });
  });
}
