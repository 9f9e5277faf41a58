import { eachCoveredCell } from '../raster/covered-cells.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import { wholeWindow } from '../raster/cell-window.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import type { Answer, PlotLowSpot, PlotLowSpots } from './answers.ts';
import type { FeatureDefinition } from './definition.ts';
import { finding, ringsInFrame, surveyConfidence } from './ground-inputs.ts';
import type { ListedLowSpots } from './listed-low-spots.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { surveyQuality } from './survey-quality.ts';

/** The low spots that lie in a plot, and how much of each. */
export const plotLowSpots: FeatureDefinition = {
  name: 'plotLowSpots',
  per: 'plot',
  reads: ['answer:lowSpotSurface', 'answer:listedLowSpots', 'raster:ground', 'record:ground'],
  compute(inputs, feature): { done: Answer<PlotLowSpots> | null } {
    const ground = inputs.raster('ground');
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    if (!ground || !surface || !list || feature.geometry.type !== 'Polygon') return { done: null };
    if (findOutlineFault(feature.geometry.coordinates)) return { done: null };
    const { grid } = ground;
    const byLabel = new Map(list.spots.map((spot) => [spot.label, { spot, cells: 0, depth: 0 }]));
    const covered = polygonCoverage(grid, ringsInFrame(feature, ground.frame));
    const field = { data: surface.filled, window: wholeWindow(grid) };
    eachCoveredCell(covered, field, (level, share, row, column) => {
      const cell = row * grid.width + column;
      const inside = byLabel.get(surface.labels[cell]!);
      if (!inside) return;
      inside.cells += share;
      inside.depth = Math.max(inside.depth, level - grid.data[cell]!);
    });
    const lowSpots: PlotLowSpot[] = [];
    for (const { spot, cells, depth } of byLabel.values()) {
      if (cells === 0) continue;
      const { label: _label, ...rest } = spot;
      lowSpots.push({
        ...rest,
        insideAreaSquareMeters: cells * grid.cellGroundAreaSquareMeters,
        insideMaxDepthMeters: depth,
      });
    }
    const { verticalErrorMeters } = surveyQuality(ground.record);
    return {
      done: {
        value: { lowSpots },
        findings:
          lowSpots.length === 0
            ? []
            : [
                finding('caution', 'plot-low-spot', [feature.id], {
                  maxDepthMeters: Math.max(...lowSpots.map((s) => s.insideMaxDepthMeters)),
                  areaSquareMeters: lowSpots.reduce((t, s) => t + s.insideAreaSquareMeters, 0),
                  verticalErrorMeters,
                }),
              ],
        basis: {
          method: [
            'Takes the low spots of the whole site, each filled to where it spills.',
            'Counts the cells of each that lie in the plot; cells on its edge by the share inside.',
          ],
          source: 'Barnes, Lehman & Mulla 2014, Computers & Geosciences 62:117–127.',
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
