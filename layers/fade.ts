import type { LayerSpecification, Map as MapLibreMap } from 'maplibre-gl';
import { mapStyle } from './map-style.ts';

/** How strong what is out of date still stands on the map. */
const FADED = 0.35;

const opacities = {
  fill: ['fill-opacity'],
  line: ['line-opacity'],
  circle: ['circle-opacity', 'circle-stroke-opacity'],
  symbol: ['icon-opacity', 'text-opacity'],
} as const;

/**
 * Paint by which a layer of the style stands as it was made, or faded: each opacity that it has, as its
 * own number or expression times the same share. Nothing for rasters and the background.
 */
function fadePaint(layer: LayerSpecification, isFaded: boolean): [name: string, value: unknown][] {
  if (!(layer.type in opacities)) return [];
  const paint = (layer.paint ?? {}) as Readonly<Record<string, unknown>>;
  return opacities[layer.type as keyof typeof opacities].map((name) => {
    const own = paint[name] ?? 1;
    if (!isFaded) return [name, own];
    return [name, typeof own === 'number' ? own * FADED : ['*', FADED, own]];
  });
}

/** Makes the layers drawn from some sources pale, and those of all others as they were made. */
export function fader(
  map: Pick<MapLibreMap, 'setPaintProperty'>,
  whenReady: (act: () => void) => void,
): (sources: ReadonlySet<string>) => void {
  let faded: ReadonlySet<string> = new Set();
  return (sources) =>
    whenReady(() => {
      const was = faded;
      faded = sources;
      for (const layer of mapStyle().layers) {
        if (!('source' in layer)) continue;
        const isFaded = sources.has(layer.source);
        if (was.has(layer.source) === isFaded) continue;
        for (const [name, value] of fadePaint(layer, isFaded))
          map.setPaintProperty(layer.id, name as never, value as never);
      }
    });
}
