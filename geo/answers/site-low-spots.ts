import { partOf, type Work } from '../work.ts';
import type { Answer, LngLatPolygon, SiteLowSpots } from './answers.ts';
import type { SiteDefinition } from './definition.ts';
import { finding, surveyConfidence } from './ground-inputs.ts';
import { leftOutFindings, type ListedLowSpots } from './listed-low-spots.ts';
import { spotBoxes, spotOutline } from './low-spot-outline.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { waterGroundOf } from './water-ground.ts';

/** Every low spot of the site worth walking to, filled to where it spills. */
export const siteLowSpots: SiteDefinition = {
  name: 'lowSpots',
  per: 'site',
  reads: ['answer:lowSpotSurface', 'answer:listedLowSpots', 'answer:waterGround', 'record:ground'],
  *compute(inputs): Work<Answer<SiteLowSpots> | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    if (!ground || !surface || !list) return null;
    const { spots: listed, minDepthMeters: minDepth, minAreaSquareMeters: minArea } = list;
    // Labels rise through the list, so the last one is the greatest.
    const most = listed.at(-1)?.label ?? 0;
    const boxes = yield* spotBoxes(surface.labels, ground.grid.width, most);
    const outlines: Record<string, readonly LngLatPolygon[]> = {};
    for (const [i, { id, label }] of listed.entries()) {
      const box = boxes.subarray((label - 1) * 4, label * 4);
      const outline = spotOutline(ground, surface, label, box);
      const [from, to] = [i / listed.length, (i + 1) / listed.length];
      outlines[id] = yield* partOf(outline, from, to, 'outlining low spots');
    }
    const value: SiteLowSpots = {
      lowSpots: listed.map(({ label: _label, ...spot }) => spot),
      outlines,
      totalAreaSquareMeters: sum(surface.spots.map((s) => s.areaSquareMeters)),
      totalVolumeCubicMeters: sum(surface.spots.map((s) => s.volumeCubicMeters)),
      totalCount: surface.spots.length,
      listMinDepthMeters: minDepth,
      listMinAreaSquareMeters: minArea,
      leftOut: list.leftOut,
    };
    const findings = [finding('note', 'low-spots-plain-fill'), ...leftOutFindings(list.leftOut)];
    return {
      value,
      findings,
      basis: {
        method: [
          'Fills every hollow of the ground level to the lowest point where it would run over.',
          'Ground beside the rim of the survey, or beside cells without data, drains freely.',
          'Lists what is at least as deep as the set depth and the survey’s own error, and as large as the set area; the totals count all.',
        ],
        source:
          'Cordonnier, Bovy & Braun 2019, Earth Surface Dynamics 7:549–562. List limits of 2 in and 100 ft²: common practice, no source.',
        inputs: {
          listMinDepthMeters: minDepth,
          listMinAreaSquareMeters: minArea,
          cellWidthMeters: ground.grid.cellWidth,
        },
        confidence: surveyConfidence(ground),
      },
    };
  },
};

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, n) => total + n, 0);
}
