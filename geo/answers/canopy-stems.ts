import { canopyTally, type CanopyClass } from '../debris/canopy-tally.ts';
import { canopyHeights, canopyTrees, type CanopyKind } from '../debris/canopy-trees.ts';
import type { SpeciesGroup } from '../debris/timber-mass.ts';
import { measurePolygon } from '../frame/geodesic.ts';
import { isKind } from '../plan/feature.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import type { Grid } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import type { Answer } from './answers.ts';
import { cropped } from './dam-window.ts';
import type { FeatureDefinition, GroundInUse } from './definition.ts';
import { finding, isOneFrame, ringsInFrame } from './ground-inputs.ts';

/** Tree tops on a timber block, as a tally to start from. */
export interface CanopyStems {
  readonly tops: number;
  readonly areaSquareMeters: number;
  readonly speciesGroup: SpeciesGroup;
  readonly classes: readonly CanopyClass[];
}

const pines: readonly SpeciesGroup[] = ['pine', 'spruce', 'douglas-fir', 'true-fir-hemlock', 'cedar-larch']; // prettier-ignore

/** Trees that show in a surface flown over a timber block: a least, to be looked over. */
export const canopyStems: FeatureDefinition = {
  name: 'canopyStems',
  per: 'timber-block',
  reads: ['raster:ground', 'raster:surface', 'record:surface'],
  *compute(inputs, feature): Work<Answer<CanopyStems | null> | null> {
    const [ground, surface] = [inputs.raster('ground'), inputs.raster('surface')];
    if (!ground || !surface || !isKind(feature, 'timber-block')) return null;
    if (feature.geometry.type !== 'Polygon' || findOutlineFault(feature.geometry.coordinates)) return null; // prettier-ignore
    // After clearing a surface shows heaps, and no trees that are to be counted.
    if (surface.record.clearing === 'after-clearing') return null;
    if (!isOneFrame(ground, surface)) {
      return given(null, [finding('caution', 'surface-elsewhere', [feature.id])]);
    }
    const rings = ringsInFrame(feature, surface.frame);
    const part = rings && partRound(surface, rings);
    if (!rings || !part) return null;
    const heights = yield* canopyHeights(part, ground.grid);
    const speciesGroup = feature.properties.tally[0]?.speciesGroup ?? 'mixed-hardwood';
    const kind: CanopyKind = pines.includes(speciesGroup) ? 'pine' : speciesGroup === 'mixed-hardwood' ? 'mixed' : 'hardwood'; // prettier-ignore
    const all = yield* canopyTrees(part, heights, kind);
    const trees = all.filter(({ x, y }) => isInPolygon([x, y], rings));
    const { areaSquareMeters } = measurePolygon(feature.geometry.coordinates);
    const tally = canopyTally(trees, areaSquareMeters, speciesGroup);
    if (!tally.ok) return given(null, [finding('note', tally.problem.code, [feature.id])]);
    return given({ tops: trees.length, areaSquareMeters, speciesGroup, classes: tally.value }, []);
  },
};

function given(
  value: CanopyStems | null,
  findings: Answer<CanopyStems | null>['findings'],
): Answer<CanopyStems | null> {
  return {
    value,
    findings,
    basis: {
      method: [
        'Surface less ground is the height of the canopy; a top is a cell that nothing within half a crown of its own height tops.',
        'Diameters are those that trees of such heights have in the species group.',
      ],
      source:
        'Popescu & Wynne 2004, Photogrammetric Engineering & Remote Sensing 70(5):589–604 (windows; hardwood and pine from memory).',
      inputs: {},
      confidence:
        'A least: what stands under other crowns does not show. Walk a strip before you rely on it.',
    },
  };
}

/** Crowns reach in from outside by so much, metres. */
const MARGIN = 15;

function partRound(
  surface: GroundInUse,
  rings: readonly (readonly (readonly [number, number])[])[],
): Grid | null {
  const { west, north, cellWidth, cellHeight, width, height } = surface.grid;
  const [xs, ys] = [rings.flat().map(([x]) => x), rings.flat().map(([, y]) => y)];
  const clamp = (value: number, most: number) => Math.min(most, Math.max(0, Math.round(value)));
  const left = clamp((Math.min(...xs) - MARGIN - west) / cellWidth, width);
  const right = clamp((Math.max(...xs) + MARGIN - west) / cellWidth, width);
  const top = clamp((north - Math.max(...ys) - MARGIN) / cellHeight, height);
  const bottom = clamp((north - Math.min(...ys) + MARGIN) / cellHeight, height);
  if (right <= left || bottom <= top) return null;
  return cropped(surface, { column: left, row: top, width: right - left, height: bottom - top }).grid; // prettier-ignore
}
