import { distanceAndBearing } from '../frame/geodesic.ts';
import { sectionAlong } from '../ground/section.ts';
import { stretchesOf, type Stretch } from '../ground/stretches.ts';
import type { Answer, SectionLine } from './answers.ts';
import type { FeatureDefinition, GroundInUse } from './definition.ts';
import { finding, inFrame, surveyConfidence } from './ground-inputs.ts';
import { surveyQuality } from './survey-quality.ts';

/** Shorter stretches than this are a hummock, not a grade: 10 ft (common practice, no source). */
const shortestStretchMeters = 3.048;

/** The ground along a section line, or along any other line drawn: heights by station, slopes by stretch, climb and fall. */
export const sectionLine: FeatureDefinition = {
  name: 'sectionLine',
  // Every kind that is always a line.
  per: ['section-line', 'berm', 'lane', 'ditch', 'culvert', 'power-line', 'buried-line'],
  reads: ['raster:ground', 'record:ground'],
  compute(inputs, feature): { done: Answer<SectionLine> } {
    if (feature.geometry.type !== 'LineString') {
      throw new RangeError(`${feature.id} is a ${feature.geometry.type}, not a line`);
    }
    const line = feature.geometry.coordinates;
    const lengths = line.slice(1).map((to, i) => distanceAndBearing(line[i], to).distanceMeters);
    const lengthMeters = lengths.reduce((sum, length) => sum + length, 0);
    const ground = inputs.raster('ground');
    const surface = ground ? surfaceAlong(ground, line, lengths) : null;
    const found =
      surface === null
        ? [finding(ground ? 'caution' : 'note', ground ? 'off-ground' : 'no-ground', [feature.id])]
        : surface.coveredShare < 1
          ? [
              finding('caution', 'partly-off-ground', [feature.id], {
                coveredShare: surface.coveredShare,
              }),
            ]
          : [];
    return {
      done: {
        value: { lengthMeters, surface },
        findings: found,
        basis: {
          method: [
            'Adds up the pieces of the line, each measured on the earth’s ellipsoid.',
            'Reads the ground at every corner and at least once per cell between.',
            'Draws straight stretches that no height strays from by more than the survey’s own error; each gives one slope.',
          ],
          source:
            'Karney 2013, J. Geodesy 87:43–55 (lengths); Douglas & Peucker 1973, Cartographica 10:112–122 (stretches).',
          inputs: {
            corners: line.length,
            stations: surface?.stationsMeters.length ?? 0,
            stretchToleranceMeters: surface?.stretchToleranceMeters ?? null,
          },
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};

/** Null where no station has a height. */
function surfaceAlong(
  ground: GroundInUse,
  line: readonly [number, number][],
  lengths: readonly number[],
): SectionLine['surface'] {
  const corners = line.map((position) => inFrame(ground.frame, position));
  if (corners.includes(null)) return null;
  const section = sectionAlong(ground.grid, corners as [number, number][], lengths);
  const elevations = section.elevationsMeters;
  const stations = section.stationsMeters;
  const read = elevations.reduce((n, z) => (Number.isNaN(z) ? n : n + 1), 0);
  if (read === 0) return null;
  const tolerance = surveyQuality(ground.record).verticalErrorMeters || 0.01;
  const stretches = stretchesOf(stations, elevations, tolerance);
  const rises = stretches.map((s) => s.slope * (s.toStationMeters - s.fromStationMeters));
  return {
    name: ground.record.name,
    surveyedOn: ground.record.surveyedOn,
    stationsMeters: Array.from(stations),
    elevationsMeters: Array.from(elevations, (z) => (Number.isNaN(z) ? null : z)),
    cornerStationsMeters: Array.from(section.cornerIndices, (i) => stations[i]),
    coveredShare: read / elevations.length,
    climbMeters: rises.reduce((sum, rise) => sum + Math.max(0, rise), 0),
    fallMeters: rises.reduce((sum, rise) => sum + Math.max(0, -rise), 0),
    stretchToleranceMeters: tolerance,
    stretches,
    steepest: steepestOf(stretches),
  };
}

/** Of those long enough to be a grade; of all where none is. The first of equals. */
function steepestOf(stretches: readonly Stretch[]): Stretch | null {
  const long = stretches.filter(
    (s) => s.toStationMeters - s.fromStationMeters >= shortestStretchMeters,
  );
  return (long.length > 0 ? long : stretches).reduce<Stretch | null>(
    (most, s) => (most === null || Math.abs(s.slope) > Math.abs(most.slope) ? s : most),
    null,
  );
}
