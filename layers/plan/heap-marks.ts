import type { PlanFeature, PlanGeometry } from '../../geo/plan/feature.ts';
import { ink } from '../palette.ts';
import { areaLabel, type AreaGeometry } from './area-marks.ts';
import { bandMarks } from './berm-marks.ts';
import type { DrawingChoices } from './feature-marks.ts';
import { localPlane } from './local-plane.ts';
import type { Mark } from './marks.ts';
import { order, rank } from './mark-order.ts';

/** A heap to scale: its drawn outline, or an oval of its length (eastward) and width. */
export function heapMarks(feature: PlanFeature<'heap'>, { caption }: DrawingChoices): Mark[] {
  const { geometry, properties, name } = feature;
  if (geometry.type === 'Point') {
    const { lengthMeters, widthMeters } = properties;
    if (lengthMeters === null || widthMeters === null) {
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
    const footprint = oval(geometry, lengthMeters, widthMeters);
    return [...bandMarks(footprint), areaLabel(footprint, name, caption, rank.earthwork)];
  }
  const area = geometry as AreaGeometry;
  return [...bandMarks(area), areaLabel(area, name, caption, rank.earthwork)];
}

const corners = 36;

function oval(
  { coordinates }: Extract<PlanGeometry, { type: 'Point' }>,
  lengthMeters: number,
  widthMeters: number,
): AreaGeometry {
  const plane = localPlane(coordinates);
  const ring = Array.from({ length: corners }, (_, k) => {
    const angle = (2 * Math.PI * k) / corners;
    return plane.toPosition([
      (Math.cos(angle) * lengthMeters) / 2,
      (Math.sin(angle) * widthMeters) / 2,
    ]);
  });
  return { type: 'Polygon', coordinates: [[...ring, ring[0]]] };
}
