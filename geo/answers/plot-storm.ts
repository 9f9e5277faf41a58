import { findOutlineFault } from '../plan/outline-faults.ts';
import { eachCoveredRun } from '../raster/covered-cells.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import { wholeWindow } from '../raster/cell-window.ts';
import type { Answer, PlotStorm } from './answers.ts';
import type { FeatureDefinition } from './definition.ts';
import { dryHours, dryingOf } from './drying.ts';
import { finding, listedDepthMeters, ringsInFrame, surveyConfidence } from './ground-inputs.ts';
import type { StormGroundInUse } from './storm-ground.ts';
import type { StormLevels } from './storm-levels.ts';
import type { SurfaceClasses } from './surface-classes.ts';
import { surveyQuality } from './survey-quality.ts';
import { waterGroundOf } from './water-ground.ts';

/** Crops drown in standing water after so long (trade notes Q1). */
const CROP_HOURS = 24;

/** What the storm under the map leaves standing in a plot. */
export const plotStorm: FeatureDefinition = {
  name: 'plotStorm',
  per: 'plot',
  reads: [
    'answer:waterGround',
    'answer:stormGround',
    'answer:stormLevels',
    'answer:surfaceClasses',
    'record:ground',
    'condition:rain',
    'setting:listMinDepthMeters',
    'setting:listMinAreaSquareMeters',
    'answer:drying',
  ],
  compute(inputs, feature): { done: Answer<PlotStorm> | null } {
    const ground = waterGroundOf(inputs);
    const prepared = inputs.answer('stormGround') as StormGroundInUse | null;
    const water = inputs.answer('stormLevels') as StormLevels | null;
    const soils = inputs.answer('surfaceClasses') as SurfaceClasses | null;
    if (!ground || !prepared || !water || !soils) return { done: null };
    if (feature.geometry.type !== 'Polygon') return { done: null };
    if (findOutlineFault(feature.geometry.coordinates)) return { done: null };
    const { grid } = ground;
    const { levels } = water.likely;
    const least = listedDepthMeters(inputs, ground);
    let cells = 0;
    let depths = 0;
    let deepest = 0;
    let deepestCell = -1;
    const covered = polygonCoverage(grid, ringsInFrame(feature, ground.frame) ?? []);
    const field = { data: grid.data, window: wholeWindow(grid) };
    eachCoveredRun(covered, field, (z, from, to, share) => {
      for (let cell = from; cell < to; cell++) {
        const depth = levels[prepared.labels[cell]!]! - z[cell]!;
        if (!(depth > 0)) continue;
        cells += share;
        depths += share * depth;
        if (depth > deepest) {
          deepest = depth;
          deepestCell = cell;
        }
      }
    });
    const intake =
      deepestCell < 0 ? 0 : soils.classes[soils.classOf[deepestCell]!]!.intakeMetersPerSecond;
    const value: PlotStorm = {
      wetAreaSquareMeters: cells * grid.cellGroundAreaSquareMeters,
      standingCubicMeters: depths * grid.cellGroundAreaSquareMeters,
      maxDepthMeters: deepest,
      hoursToDry: dryHours(dryingOf(inputs), deepest, intake),
    };
    const telling =
      deepest >= least && value.wetAreaSquareMeters >= inputs.settings.listMinAreaSquareMeters;
    const long = value.hoursToDry === null || value.hoursToDry > CROP_HOURS;
    return {
      done: {
        value,
        findings:
          telling && long
            ? [
                finding('caution', 'plot-stands-long', [feature.id], {
                  areaSquareMeters: value.wetAreaSquareMeters,
                  maxDepthMeters: deepest,
                  hours: value.hoursToDry,
                  verticalErrorMeters: surveyQuality(ground.record).verticalErrorMeters,
                }),
              ]
            : [],
        basis: {
          method: [
            'Takes where the storm’s water stands on the whole site.',
            'Counts the cells of it that lie in the plot; cells on its edge by the share inside.',
          ],
          source: 'USDA TR-55 (1986) ch. 2; Barnes, Callaghan & Wickert 2021.',
          inputs: { rainMeters: inputs.conditions.rain.depthMeters },
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};
