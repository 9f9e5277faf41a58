import { lineLengthMeters, measurePolygon } from '../frame/geodesic.ts';
import { kindNames, type Kind } from '../plan/kinds.ts';
import type { PlanFeature, Position } from '../plan/feature.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import { sampleBilinear } from '../raster/sample.ts';
import type { Answer, ShapeMeasure } from './answers.ts';
import type { FeatureDefinition, GroundInUse } from './definition.ts';
import { finding, inFrame, surveyConfidence } from './ground-inputs.ts';

/** Kinds that have an answer of their own, which says these numbers and more. */
const answeredOtherwise: readonly Kind[] = ['plot', 'berm', 'stand', 'section-line'];

/** Length, area or height of every drawn thing that has no answer of its own. */
export const shapeMeasure: FeatureDefinition = {
  name: 'shapeMeasure',
  per: kindNames.filter((kind) => !answeredOtherwise.includes(kind)),
  reads: ['raster:ground', 'record:ground'],
  compute(inputs, feature): { done: Answer<ShapeMeasure> | null } {
    const ground = inputs.raster('ground');
    const value = measure(feature, ground);
    if (value === null) return { done: null };
    return {
      done: {
        value,
        findings: drainsNothing(feature, ground) ? [finding('caution', 'drain-off-ground', [feature.id])] : [], // prettier-ignore
        basis: {
          method:
            value.shape === 'point'
              ? ['Takes the height between the four nearest cells of the ground.']
              : value.shape === 'line'
                ? [
                    'Adds up the pieces of the line, each measured on the earth’s ellipsoid.',
                    'Takes the height of both ends between the four nearest cells of the ground.',
                  ]
                : [
                    'Measures area and perimeter on the earth’s ellipsoid, not on the flat map; holes are taken off the area.',
                  ],
          source:
            value.shape === 'point'
              ? 'Bilinear interpolation; no source needed.'
              : 'Karney 2013, J. Geodesy 87:43–55.',
          inputs: {},
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};

/** An outlet, culvert or ditch that lies wholly off the ground that is open. */
function drainsNothing({ kind, geometry }: PlanFeature, ground: GroundInUse | null): boolean {
  if (!ground || !(kind === 'outlet' || kind === 'culvert' || kind === 'ditch')) return false;
  const places = geometry.type === 'LineString' ? geometry.coordinates : [geometry.coordinates];
  return (places as readonly Position[]).every((place) => heightAt(ground, place) === null);
}

/** Null for an outline that encloses no clear piece of ground. */
function measure({ geometry }: PlanFeature, ground: GroundInUse | null): ShapeMeasure | null {
  if (geometry.type === 'Point') {
    return { shape: 'point', elevationMeters: heightAt(ground, geometry.coordinates) };
  }
  if (geometry.type === 'LineString') {
    const line = geometry.coordinates;
    return {
      shape: 'line',
      lengthMeters: lineLengthMeters(line),
      startElevationMeters: heightAt(ground, line[0]),
      endElevationMeters: heightAt(ground, line[line.length - 1]),
    };
  }
  if (findOutlineFault(geometry.coordinates)) return null;
  const { areaSquareMeters, perimeterMeters, holesPerimeterMeters } = measurePolygon(
    geometry.coordinates,
  );
  if (!(areaSquareMeters > 0)) return null;
  return {
    shape: 'area',
    areaSquareMeters,
    perimeterMeters: perimeterMeters + holesPerimeterMeters,
  };
}

function heightAt(ground: GroundInUse | null, position: Position): number | null {
  const at = ground && inFrame(ground.frame, position);
  const height = at ? sampleBilinear(ground.grid, at[0], at[1]) : NaN;
  return Number.isFinite(height) ? height : null;
}
