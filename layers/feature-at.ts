import type { Map as MapLibreMap } from 'maplibre-gl';
import { chooseHit, reachPixels, type HitCandidate } from './hit-test.ts';
import { editingSource, planSource } from './map-style.ts';
import { lowSpotLabelLayer } from './plan/low-spot-layers.ts';
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

/** Nearer than this a symbol is meant even where a low spot lies under it. */
const rightTherePixels = 8;
/** Text is broad already: it counts where it is written and a little around. */
const textReachPixels = 4;

export interface Tap {
  /** The feature that is meant, of everything drawn within a finger's width. */
  readonly id: string | null;
  /** No symbol and no words of a feature lie right there: a low spot there may be meant. */
  readonly isBare: boolean;
  /** The low spot that was tapped, if any. */
  readonly spot: string | null;
}

/** What a tap means. */
export function tapAt(
  map: Pick<MapLibreMap, 'queryRenderedFeatures' | 'project'>,
  point: { readonly x: number; readonly y: number },
): Tap {
  const candidates = candidatesAt(map, point);
  const { x, y } = point;
  const project = (position: readonly [number, number]): [number, number] => {
    const at = map.project([position[0], position[1]]);
    return [at.x, at.y];
  };
  const id = chooseHit(candidates, [x, y], project);
  const raised = candidates.filter(({ mark }) => /^(symbol|label|line-text)$/.test(mark));
  const isBare = chooseHit(raised, [x, y], project, rightTherePixels) === null;
  const layers = ['low-spots-fill', lowSpotLabelLayer.id];
  const [spot] = map.queryRenderedFeatures([x, y], { layers });
  return { id, isBare, spot: spot ? String(spot.properties.id) : null };
}

function candidatesAt(
  map: Pick<MapLibreMap, 'queryRenderedFeatures' | 'project'>,
  { x, y }: { readonly x: number; readonly y: number },
): HitCandidate[] {
  const around = (reach: number, layers: string[]) =>
    map.queryRenderedFeatures(
      [
        [x - reach, y - reach],
        [x + reach, y + reach],
      ],
      { layers },
    );
  const found = [...around(reachPixels, shapeLayers), ...around(textReachPixels, textLayers)];
  return found.map(({ geometry, properties }): HitCandidate => ({
    featureId: String(properties.featureId),
    mark: String(properties.mark),
    order: Number(properties.order),
    geometry,
  }));
}
