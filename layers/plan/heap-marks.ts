import type { PlanFeature, PlanGeometry } from '../../geo/plan/feature.ts';
import { heapOutline } from '../../geo/debris/point-heap.ts';
import { ink } from '../palette.ts';
import { areaLabel, type AreaGeometry } from './area-marks.ts';
import { bandMarks } from './berm-marks.ts';
import type { DrawingChoices } from './feature-marks.ts';
import { localPlane } from './local-plane.ts';
import type { Mark } from './marks.ts';
import { order, rank } from './mark-order.ts';

/** A heap to scale: its drawn outline, or the one that its numbers make, its length eastward. */
export function heapMarks(feature: PlanFeature<'heap'>, { caption }: DrawingChoices): Mark[] {
  const { geometry, properties, name } = feature;
  if (geometry.type === 'Point') {
    const outline = heapOutline(properties);
    if (!outline) {
      return [
        { mark: 'symbol', geometry, order: order.symbol, symbol: 'heap', bearingDegrees: null },
        {
          mark: 'label',
          geometry,
          order: 0,
          text: name,
          caption,
          color: ink,
          sizePixels: 13,
          beside: true,
          rank: rank.earthwork,
        },
      ];
    }
    const footprint = placed(geometry, outline);
    return [...bandMarks(footprint), areaLabel(footprint, name, caption, rank.earthwork)];
  }
  const area = geometry as AreaGeometry;
  return [...bandMarks(area), areaLabel(area, name, caption, rank.earthwork)];
}

/** Its length runs to true east. */
function placed(
  { coordinates }: Extract<PlanGeometry, { type: 'Point' }>,
  outline: readonly (readonly [number, number])[],
): AreaGeometry {
  const plane = localPlane(coordinates);
  const ring = outline.map(([east, north]) => plane.toPosition([east, north]));
  return { type: 'Polygon', coordinates: [[...ring, ring[0]!]] };
}
