import type { AnswerGraph } from '../../geo/answers/graph.ts';
import type { LowSpotSurface } from '../../geo/answers/low-spot-surface.ts';
import { placeCatchment, type PlaceCatchment } from '../../geo/answers/place-catchment.ts';
import type { WaterGround } from '../../geo/answers/water-ground.ts';
import type { FlowCatchments } from '../../geo/water/flow-lines.ts';
import type { Requests } from './messages.ts';
import { inSlices } from './tile-shop.ts';

/** What drains to a place, of the ground that the water runs over now; null until that is known. */
export function catchmentAt(
  graph: AnswerGraph,
  { lng, lat, reachMeters }: Requests['catchmentAt'][0],
): Promise<PlaceCatchment | null> | null {
  const ground = graph.siteValue('waterGround') as WaterGround | null | undefined;
  const surface = graph.siteValue('lowSpotSurface') as LowSpotSurface | null | undefined;
  const flow = graph.siteValue('siteFlow') as FlowCatchments | null | undefined;
  const cells = ground?.grid.data.length;
  if (!ground || surface?.labels.length !== cells || flow?.pointers.length !== cells) return null;
  return inSlices(placeCatchment(ground, surface!, flow!, [lng, lat], reachMeters));
}
