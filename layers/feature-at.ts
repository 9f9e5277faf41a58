import type { Map as MapLibreMap } from 'maplibre-gl';
import { chooseHit, reachPixels, type HitCandidate } from './hit-test.ts';
import { editingSource, planSource } from './map-style.ts';
import { markLayers } from './plan/mark-layers.ts';

const layers = [planSource, editingSource].flatMap((source) => {
  const { ground, lines, text, names } = markLayers(source);
  return [...ground, ...lines, ...text, ...names].map((layer) => layer.id);
});

/** What a tap means, of everything drawn within a finger's width of it. */
export function featureAt(
  map: Pick<MapLibreMap, 'queryRenderedFeatures' | 'project'>,
  { x, y }: { readonly x: number; readonly y: number },
): string | null {
  const found = map.queryRenderedFeatures(
    [
      [x - reachPixels, y - reachPixels],
      [x + reachPixels, y + reachPixels],
    ],
    { layers },
  );
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
