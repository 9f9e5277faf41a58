import type { HorizontalCrs } from '../../frame/crs-types.ts';
import { openCrs } from '../../frame/open-frame.ts';
import type { Work } from '../../work.ts';
import type { RawFeature, RawLayer, RawPart, XY } from './raw-feature.ts';
import { freshTally, tidyPart, type TidyPart, type TidyTally } from './tidy-part.ts';

/** A feature of a layer with its parts as plan geometry. */
export interface PlacedFeature {
  readonly raw: RawFeature;
  readonly parts: readonly TidyPart[];
}

export interface PlacedLayer {
  readonly features: readonly PlacedFeature[];
  readonly tally: TidyTally;
}

const POSITIONS_BETWEEN = 10_000;

/**
 * Brings a layer to longitude and latitude and tidies its parts; features of which nothing is left
 * are left out and counted. Yields per 10,000 positions.
 */
export function* placeLayer(layer: RawLayer, crs: HorizontalCrs): Work<PlacedLayer> {
  const toLngLat = crs.kind === 'geographic' ? null : openCrs(crs).toLngLat;
  const tally = freshTally();
  const features: PlacedFeature[] = [];
  let since = 0;
  for (let i = 0; i < layer.features.length; i++) {
    const raw = layer.features[i];
    const parts: TidyPart[] = [];
    for (const part of raw.parts) {
      const placed = toLngLat ? project(part, toLngLat) : part;
      const tidy = tidyPart(placed, layer.heightUnit, tally);
      if (tidy) parts.push(tidy);
      since += part.rings.reduce((sum, ring) => sum + ring.length, 0);
      if (since < POSITIONS_BETWEEN) continue;
      since = 0;
      yield { share: i / layer.features.length, doing: `Placing ${layer.file}` };
    }
    if (parts.length > 0) features.push({ raw, parts });
  }
  return { features, tally };
}

/** A position that has no place in the system becomes NaN, which tidying counts and leaves out. */
function project(part: RawPart, toLngLat: (x: number, y: number) => [number, number]): RawPart {
  const place = ([x, y]: XY): XY => {
    try {
      return toLngLat(x, y);
    } catch (error) {
      if (error instanceof RangeError) return [Number.NaN, Number.NaN];
      throw error;
    }
  };
  return { ...part, rings: part.rings.map((ring) => ring.map(place)) };
}
