import { distanceAndBearing } from '../frame/geodesic.ts';
import { sectionAlong, type Section } from '../ground/section.ts';
import { standingRuns, type StandingRun } from '../ground/standing-runs.ts';
import { cellAt } from '../raster/sample.ts';
import type { Answer } from './answers.ts';
import type { FeatureDefinition, GroundInUse } from './definition.ts';
import { inFrame, listedDepthMeters, surveyConfidence } from './ground-inputs.ts';
import { sectionLine } from './section-line.ts';
import type { StormGroundInUse } from './storm-ground.ts';
import type { StormLevels } from './storm-levels.ts';
import { waterGroundOf } from './water-ground.ts';

/** The storm's water that a section runs through. */
export interface SectionWater {
  /** In order along the line; shallower ones than are listed are left out. */
  readonly runs: readonly StandingRun[];
}

/** Where the water of the storm under the map stands on a section. */
export const sectionWater: FeatureDefinition = {
  name: 'sectionWater',
  per: sectionLine.per,
  reads: [
    'answer:waterGround',
    'answer:stormGround',
    'answer:stormLevels',
    'record:ground',
    'condition:rain',
    'setting:listMinDepthMeters',
  ],
  compute(inputs, feature): { done: Answer<SectionWater> | null } {
    const ground = waterGroundOf(inputs);
    const prepared = inputs.answer('stormGround') as StormGroundInUse | null;
    const water = inputs.answer('stormLevels') as StormLevels | null;
    if (!ground || !prepared || !water || feature.geometry.type !== 'LineString') {
      return { done: null };
    }
    const line = feature.geometry.coordinates;
    const corners = line.map((position) => inFrame(ground.frame, position));
    if (corners.includes(null)) return { done: null };
    const places = corners as [number, number][];
    const lengths = line.slice(1).map((to, i) => distanceAndBearing(line[i], to).distanceMeters);
    const section = sectionAlong(ground.grid, places, lengths);
    const levels = levelsAlong(section, places, ground, prepared, water);
    const least = listedDepthMeters(inputs, ground);
    const runs = standingRuns(section.stationsMeters, section.elevationsMeters, levels);
    return {
      done: {
        value: { runs: runs.filter((run) => run.maxDepthMeters >= least) },
        findings: [],
        basis: {
          method: [
            'Takes where the storm’s water stands on the whole site.',
            'Reads ground and water at least once per cell along the line; the edge is where straight ground comes up to the water.',
          ],
          source: 'USDA TR-55 (1986) ch. 2; Barnes, Callaghan & Wickert 2021.',
          inputs: { rainMeters: inputs.conditions.rain.depthMeters, leastDepthMeters: least },
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};

/** Height of the water of the hollow that each station drains to; -Infinity where there is none. */
function levelsAlong(
  { stationsMeters, cornerIndices }: Section,
  line: readonly (readonly [number, number])[],
  { grid }: GroundInUse,
  { labels }: StormGroundInUse,
  { likely }: StormLevels,
): Float64Array {
  const out = new Float64Array(stationsMeters.length).fill(-Infinity);
  for (let i = 0; i + 1 < line.length; i++) {
    const [ax, ay] = line[i];
    const [bx, by] = line[i + 1];
    const [from, to] = [cornerIndices[i], cornerIndices[i + 1]];
    for (let n = from; n <= to; n++) {
      const t = to > from ? (n - from) / (to - from) : 0;
      const cell = cellAt(grid, ax + t * (bx - ax), ay + t * (by - ay));
      if (cell >= 0) out[n] = likely.levels[labels[cell]] ?? -Infinity;
    }
  }
  return out;
}
