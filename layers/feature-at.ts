import type { Map as MapLibreMap } from 'maplibre-gl';
import { chooseHit, reachPixels, type HitCandidate } from './hit-test.ts';
import { editingSource, planSource } from './map-style.ts';
import { markLayers } from './plan/mark-layers.ts';

const all = [planSource, editingSource].map(markLayers);
const shapeLayers = all.flatMap(({ ground, lines, text }) =>
  [...ground, ...lines, ...text].map((layer) => layer.id).filter((id) => !isText(id)),
);
const textLayers = all.flatMap(({ text, names }) =>
  [...text, ...names].map((layer) => layer.id).filter(isText),
);

function isText(id: string): boolean {
  return !/-(fill|pattern|casing|line|symbol)$/.test(id);
}

/** Text is broad already: it counts where it is written and a little around. */
const textReachPixels = 4;

/** What a tap means, of everything drawn within a finger's width of it. */
export function featureAt(
  map: Pick<MapLibreMap, 'queryRenderedFeatures' | 'project'>,
  { x, y }: { readonly x: number; readonly y: number },
): string | null {
  const around = (reach: number, layers: string[]) =>
    map.queryRenderedFeatures(
      [
        [x - reach, y - reach],
        [x + reach, y + reach],
      ],
      { layers },
    );
  const found = [...around(reachPixels, shapeLayers), ...around(textReachPixels, textLayers)];
  const candidates = found.map(({ geometry, properties }): HitCandidate => ({
    featureId: String(properties.featureId),
    mark: String(properties.mark),
    order: Number(properties.order),
    geometry,
  }));
  return chooseHit(candidates, [x, y], (position) => {
    const at = map.project([position[0], position[1]]);
    return [at.x, at.y];
  });
}
