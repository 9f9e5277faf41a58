import { eachCoveredRun } from '../raster/covered-cells.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import { wholeWindow } from '../raster/cell-window.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import type { Answer, PlotLowSpot, PlotLowSpots } from './answers.ts';
import type { FeatureDefinition } from './definition.ts';
import { waterGroundOf } from './water-ground.ts';
import { finding, ringsInFrame, surveyConfidence } from './ground-inputs.ts';
import type { ListedLowSpots } from './listed-low-spots.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { surveyQuality } from './survey-quality.ts';

/** The low spots that lie in a plot, and how much of each. */
export const plotLowSpots: FeatureDefinition = {
  name: 'plotLowSpots',
  per: 'plot',
  reads: ['answer:lowSpotSurface', 'answer:listedLowSpots', 'answer:waterGround', 'record:ground'],
  compute(inputs, feature): { done: Answer<PlotLowSpots> | null } {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    if (!ground || !surface || !list || feature.geometry.type !== 'Polygon') return { done: null };
    if (findOutlineFault(feature.geometry.coordinates)) return { done: null };
    const { grid } = ground;
    const rings = ringsInFrame(feature, ground.frame) ?? [];
    const covered = polygonCoverage(grid, rings);
    // Listed spots by label: most plots touch none of them, however many the site has.
    const inside = new Map<number, { cells: number; depth: number }>();
    const field = { data: surface.filled, window: wholeWindow(grid) };
    eachCoveredRun(covered, field, (filled, from, to, share) => {
      for (let cell = from; cell < to; cell++) {
        const label = surface.labels[cell]!;
        if (label === 0) continue;
        const depth = filled[cell]! - grid.data[cell]!;
        const part = inside.get(label);
        if (!part) inside.set(label, { cells: share, depth });
        else {
          part.cells += share;
          part.depth = Math.max(part.depth, depth);
        }
      }
    });
    const lowSpots: PlotLowSpot[] = [];
    // Labels rise as volumes fall, and so does the list.
    for (const listed of list.spots) {
      const part = inside.get(listed.label);
      if (!part) continue;
      const { label: _label, ...spot } = listed;
      lowSpots.push({
        ...spot,
        insideAreaSquareMeters: part.cells * grid.cellGroundAreaSquareMeters,
        insideMaxDepthMeters: part.depth,
      });
    }
    // The shallow rim of a pond beside the plot is no reason to warn.
    const telling = lowSpots.filter(
      (s) =>
        s.insideMaxDepthMeters >= list.minDepthMeters &&
        s.insideAreaSquareMeters >= list.minAreaSquareMeters,
    );
    const { verticalErrorMeters } = surveyQuality(ground.record);
    return {
      done: {
        value: { lowSpots },
        findings:
          telling.length === 0
            ? []
            : [
                finding('caution', 'plot-low-spot', [feature.id], {
                  maxDepthMeters: Math.max(...telling.map((s) => s.insideMaxDepthMeters)),
                  areaSquareMeters: telling.reduce((t, s) => t + s.insideAreaSquareMeters, 0),
                  verticalErrorMeters,
                }),
              ],
        basis: {
          method: [
            'Takes the low spots of the whole site, each filled to where it spills.',
            'Counts the cells of each that lie in the plot; cells on its edge by the share inside.',
          ],
          source: 'Cordonnier, Bovy & Braun 2019, Earth Surface Dynamics 7:549–562.',
          inputs: {
            listMinDepthMeters: list.minDepthMeters,
            listMinAreaSquareMeters: list.minAreaSquareMeters,
          },
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};
