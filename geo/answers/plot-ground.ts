import { measurePolygon } from '../frame/geodesic.ts';
import { elevationStats } from '../ground/elevation-stats.ts';
import { fitPlane } from '../ground/plane-fit.ts';
import { planeSlopeIn, planeWindow } from '../ground/plane-slope.ts';
import { slopeStats } from '../ground/slope-stats.ts';
import type { CellValue } from '../ground/covered-extremes.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import { wholeWindow, type CellWindow } from '../raster/cell-window.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import { slopeClassLimits, type Answer, type PlotGround } from './answers.ts';
import { cellsRound, coveredWindow } from './covered-window.ts';
import type { FeatureDefinition, GroundInUse } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding, ringsInFrame, surveyConfidence, trueBearing } from './ground-inputs.ts';

/** Over this a plot washes (trade notes Q9, "plant < 10 %" [S9]). */
const steepPlot = 0.1;
/** Bared soil from this on needs a stormwater permit in the US, exemptions aside [S12b]: 1 acre. */
const permitAreaSquareMeters = 4046.8564224;
/** A plane less steep than this has no direction that a survey could hold. */
const levelPlane = 0.001;

/** Acres, perimeter, slope, heights and fall of a plot. */
export const plotGround: FeatureDefinition = {
  name: 'plotGround',
  per: 'plot',
  reads: ['raster:ground', 'record:ground'],
  compute(inputs, feature): { done: Answer<PlotGround> | null } {
    if (feature.geometry.type !== 'Polygon') return { done: null };
    const rings = feature.geometry.coordinates;
    // An outline that crosses itself has no area to speak of; the page offers to mend it.
    if (findOutlineFault(rings)) return { done: null };
    const ground = inputs.raster('ground');
    const { areaSquareMeters, perimeterMeters, holesPerimeterMeters } = measurePolygon(rings);
    // A hole larger than its outline.
    if (!(areaSquareMeters > 0)) return { done: null };
    const terrain = ground ? terrainOf(feature, ground, areaSquareMeters) : null;
    return {
      done: {
        value: {
          areaSquareMeters,
          perimeterMeters: perimeterMeters + holesPerimeterMeters,
          terrain,
        },
        findings: plotFindings(feature, ground, areaSquareMeters, terrain),
        basis: {
          method: [
            'Measures area and perimeter on the earth’s ellipsoid, not on the flat map; holes are taken off the area.',
            'Fits a plane to the heights in a small window round each cell: its steepness is the slope there.',
            'Takes median, 90th percentile and class acres over the cells inside; a cell on the edge counts by the share that lies inside.',
            'The fall is the highest cell less the lowest; its direction is that of the one plane that fits the whole plot best.',
          ],
          source:
            'Karney 2013, J. Geodesy 87:43–55 (area); ordinary least squares (slope). Class limits: trade practice.',
          inputs: {
            slopeWindowMeters: terrain?.slopeWindowMeters ?? null,
            cellWidthMeters: ground?.grid.cellWidth ?? null,
            corners: rings[0]!.length - 1,
          },
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};

function terrainOf(
  feature: PlanFeature,
  ground: GroundInUse,
  areaSquareMeters: number,
): PlotGround['terrain'] {
  const { grid } = ground;
  const rings = ringsInFrame(feature, ground.frame);
  if (!rings) return null;
  const covered = polygonCoverage(grid, rings);
  const window = coveredWindow(covered);
  const heights = { data: grid.data, window: wholeWindow(grid) };
  const elevation = window && elevationStats(heights, covered);
  if (!window || !elevation) return null;
  const size = planeWindow(grid);
  const slopes = { data: planeSlopeIn(grid, window, { size }), window };
  // Classes share out the plot's own area of record, so that they add up to it.
  const cellArea = areaSquareMeters / covered.polygonCells;
  const slope = slopeStats(slopes, covered, slopeClassLimits, cellArea);
  if (!slope) return null;
  // A plot of a cell or two, or of one row, has no plane of its own: the ground round it lends one.
  const plane =
    fitPlane(grid, heights, covered) ??
    fitPlane(grid, heights, cellsRound(grid, window, size.columns >> 1, size.rows >> 1));
  const middle = centreOf(grid, window);
  const level = !plane || plane.fallsTowardGridDegrees === null || plane.slope < levelPlane;
  return {
    coveredShare: Math.min(1, elevation.dataCells / covered.polygonCells),
    slopeWindowMeters: Math.max(size.columns * grid.cellWidth, size.rows * grid.cellHeight),
    medianSlope: slope.median,
    percentile90Slope: slope.percentile90,
    // In a sliver the steepest cell may be less than half inside, and so not speak for itself.
    greatestSlope: Math.max(slope.greatest.value, slope.percentile90),
    slopeClassAreasSquareMeters: slope.classAreasSquareMeters,
    lowestMeters: elevation.lowest.value,
    highestMeters: elevation.highest.value,
    lowestAt: placeOf(ground, elevation.lowest),
    highestAt: placeOf(ground, elevation.highest),
    fallMeters: elevation.highest.value - elevation.lowest.value,
    fallsTowardDegrees: level
      ? null
      : trueBearing(ground, plane.fallsTowardGridDegrees!, middle[0], middle[1]),
    planeSlope: plane?.slope ?? slope.median,
  };
}

function centreOf(grid: GroundInUse['grid'], window: CellWindow): [number, number] {
  return [
    grid.west + (window.column + window.width / 2) * grid.cellWidth,
    grid.north - (window.row + window.height / 2) * grid.cellHeight,
  ];
}

function placeOf({ grid, frame }: GroundInUse, { row, column }: CellValue): [number, number] {
  return frame.toLngLat(
    grid.west + (column + 0.5) * grid.cellWidth,
    grid.north - (row + 0.5) * grid.cellHeight,
  );
}

function plotFindings(
  feature: PlanFeature,
  ground: GroundInUse | null,
  areaSquareMeters: number,
  terrain: PlotGround['terrain'],
): Finding[] {
  const about = [feature.id];
  const found: Finding[] = [];
  if (!ground) found.push(finding('note', 'no-ground', about));
  else if (!terrain) found.push(finding('caution', 'off-ground', about));
  else {
    const { coveredShare, percentile90Slope, fallsTowardDegrees } = terrain;
    if (coveredShare < 0.999) {
      found.push(finding('caution', 'partly-off-ground', about, { coveredShare }));
    }
    if (percentile90Slope > steepPlot) {
      found.push(finding('caution', 'plot-steep', about, { percentile90Slope }));
    }
    if (fallsTowardDegrees === null) found.push(finding('note', 'plot-level', about));
  }
  if (areaSquareMeters >= permitAreaSquareMeters) {
    found.push(finding('note', 'disturbs-an-acre', about, { areaSquareMeters }));
  }
  return found;
}
