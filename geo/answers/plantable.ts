import type { Frame } from '../frame/crs-types.ts';
import { measurePolygon } from '../frame/geodesic.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import { planeSlopeIn, planeWindow } from '../ground/plane-slope.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { shareOut } from '../plan/overlay/overlay.ts';
import type { PlanePolygon } from '../plan/overlay/ring-areas.ts';
import { eachCoveredRun } from '../raster/covered-cells.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import type { Answer, Plantable, PlantableTaking } from './answers.ts';
import { coveredWindow, windowRound } from './covered-window.ts';
import type { FeatureDefinition, GroundInUse, Inputs } from './definition.ts';
import { finding, ringsInFrame, surveyConfidence } from './ground-inputs.ts';
import { isInDoubt, takingKinds, takingsNear } from './takings.ts';

/** Less than this is a touch, not a taking: 1 dm². */
const leastTakingSquareMeters = 0.01;

/** What is left of a plot to plant, and what was taken off, each piece of ground once. */
export const plantable: FeatureDefinition = {
  name: 'plantable',
  per: 'plot',
  reads: [
    ...takingKinds.map((kind) => `features:${kind}` as const),
    'raster:ground',
    'record:ground',
    'setting:takeOffTooSteep',
    'setting:tooSteepSlope',
  ],
  compute(inputs, feature): { done: Answer<Plantable> | null } {
    if (feature.geometry.type !== 'Polygon') return { done: null };
    const outline = feature.geometry.coordinates;
    if (findOutlineFault(outline)) return { done: null };
    const { areaSquareMeters } = measurePolygon(outline);
    if (!(areaSquareMeters > 0)) return { done: null };
    const ground = inputs.raster('ground');
    const { frame, rings, onGround } = planeOf(feature, ground);
    const near = takingsNear(inputs, frame, rings);
    const takings = near.filter((taking) => taking.layer !== null);
    const shares = shareOut([
      { rings, rule: 'even-odd' },
      ...takings.map((taking) => taking.layer!),
    ]);
    // Shares of the plot's own area of record, so that they add up to it.
    const ratio = areaSquareMeters / shares.areas.reduce((sum, area) => sum + area, 0);
    const taken: PlantableTaking[] = [];
    takings.forEach(({ feature: by }, i) => {
      const area = shares.areas[i + 1] * ratio;
      if (area < leastTakingSquareMeters) return;
      taken.push({ reason: by.kind, featureId: by.id, areaSquareMeters: area });
    });
    const steep = onGround ? steepGround(inputs, onGround, shares.left) : null;
    if (steep && steep.frameArea * ratio >= leastTakingSquareMeters) {
      taken.push({
        reason: 'too-steep',
        featureId: null,
        areaSquareMeters: steep.frameArea * ratio,
      });
    }
    const off = taken.reduce((sum, { areaSquareMeters: area }) => sum + area, 0);
    const plantableSquareMeters = Math.max(0, areaSquareMeters - off);
    const doubtful = near.filter((taking) => isInDoubt(taking, rings));
    return {
      done: {
        value: {
          areaSquareMeters,
          plantableSquareMeters,
          taken,
          unknownSizeIds: doubtful.map((taking) => taking.feature.id),
          steepJudgedShare: inputs.settings.takeOffTooSteep ? (steep?.judgedShare ?? 0) : null,
        },
        findings: [
          ...(plantableSquareMeters < leastTakingSquareMeters
            ? [finding('caution', 'nothing-plantable', [feature.id])]
            : []),
          ...(doubtful.length > 0
            ? [
                finding(
                  'note',
                  'taking-without-size',
                  [feature.id, ...doubtful.map((taking) => taking.feature.id)],
                  { count: doubtful.length },
                ),
              ]
            : []),
        ],
        basis: {
          method: [
            'Takes no-go ground, structures drawn as areas, berms and heaps off the plot, in that order; ground under two of them is taken off once.',
            'A berm takes its base width along its line, open at its gaps, and only what lies inside the plot; a heap takes its outline, or the oval of its length and width.',
            inputs.settings.takeOffTooSteep
              ? 'Of what is left, takes off the cells steeper than the setting; a cell on an edge counts by the share that lies inside.'
              : 'Steep ground is left in: the setting is off.',
            'The list and what is left add up to the plot’s area on the ellipsoid.',
          ],
          source:
            'Snap rounding, Hobby 1999, Computational Geometry 13:199–214 (areas); ordinary least squares (slope). Planting under 10 % slope: trade practice.',
          inputs: {
            tooSteepSlope: inputs.settings.takeOffTooSteep ? inputs.settings.tooSteepSlope : null,
            thingsNear: near.length,
          },
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};

interface Plane {
  readonly frame: Frame;
  readonly rings: readonly (readonly XY[])[];
  /** The ground, where it is in the same frame. */
  readonly onGround: GroundInUse | null;
}

/** The ground's own frame; where there is none, or it does not reach here, the UTM zone here. */
function planeOf(feature: PlanFeature, ground: GroundInUse | null): Plane {
  const rings = ground && ringsInFrame(feature, ground.frame);
  if (rings) return { frame: ground.frame, rings, onGround: ground };
  const [lng, lat] = (feature.geometry.coordinates as [number, number][][])[0][0];
  const frame = zoneFrame(lng, lat);
  return { frame, rings: ringsInFrame(feature, frame) ?? [], onGround: null };
}

/** What of the ground left is too steep, and how much of it has heights at all. */
function steepGround(
  inputs: Inputs,
  { grid }: GroundInUse,
  left: readonly PlanePolygon[],
): { frameArea: number; judgedShare: number } | null {
  const { takeOffTooSteep, tooSteepSlope } = inputs.settings;
  if (!takeOffTooSteep) return null;
  const covered = left.map((rings) => polygonCoverage(grid, rings));
  const window = windowRound(covered.map(coveredWindow));
  if (!window) return null;
  const slopes = { data: planeSlopeIn(grid, window, { size: planeWindow(grid) }), window };
  let steep = 0;
  let judged = 0;
  let all = 0;
  for (const part of covered) {
    all += part.polygonCells;
    eachCoveredRun(part, slopes, (data, from, to, share) => {
      let over = 0;
      for (let i = from; i < to; i++) if (data[i] > tooSteepSlope) over++;
      steep += over * share;
      judged += (to - from) * share;
    });
  }
  return {
    frameArea: steep * grid.cellWidth * grid.cellHeight,
    judgedShare: all > 0 ? Math.min(1, judged / all) : 0,
  };
}
