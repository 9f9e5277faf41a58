import { findOutlineFault } from '../plan/outline-faults.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { polygonMask, type RingsXY } from '../raster/polygon-mask.ts';
import { curveNumberOf, singleGroup, type Cover } from '../water/curve-numbers.ts';
import { intakeMetersPerSecond, type SoilIntake } from '../water/infiltration.ts';
import type { Work } from '../work.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import { ringsInFrame } from './ground-inputs.ts';

/** A kind of surface: how much of a rain it sheds on average ground, how fast it takes water. */
export interface SurfaceClass {
  readonly curveNumber: number;
  readonly intakeMetersPerSecond: number;
  /** Null where no soil area says. */
  readonly soil: string | null;
  readonly cover: Cover;
  /** A dual group as what it counts as now. */
  readonly group: 'A' | 'B' | 'C' | 'D';
}

export interface SurfaceClasses {
  readonly classOf: Uint8Array;
  readonly classes: readonly SurfaceClass[];
  /** Share of the cells with data that a soil area with a group covers. */
  readonly soilKnownShare: number;
  /** Some soil's intake is only known by its group. */
  readonly intakeByGroup: boolean;
}

/** More kinds of soil than a class number holds are taken as the last. */
const MOST_SOILS = 127;

/** Soil and cover of every cell, as a class: what runoff and soaking are worked out from. */
export const surfaceClasses: SiteDefinition = {
  name: 'surfaceClasses',
  per: 'site',
  shown: false,
  keep: 2,
  reads: [
    'raster:ground',
    'features:soil-area',
    'answer:clearedOutlines',
    'setting:siteCover',
    'setting:clearedCover',
    'setting:assumedSoilGroup',
    'setting:waterTableUp',
  ],
  *compute(inputs): Work<SurfaceClasses | null> {
    const ground = inputs.raster('ground');
    if (!ground) return null;
    const { siteCover, clearedCover, assumedSoilGroup, waterTableUp } = inputs.settings;
    const areas = soilAreas(inputs).slice(0, MOST_SOILS);
    const classOf = new Uint8Array(ground.grid.data.length);
    // Twice the soil's place in the list, and one more where it is cleared.
    for (const [i, area] of areas.entries()) {
      paint(classOf, ground, area, () => 2 * (i + 1));
      yield { share: (i + 1) / (areas.length + 1), doing: 'laying out soils' };
    }
    const cleared = inputs.answer('clearedOutlines') as readonly PlanFeature[];
    for (const area of cleared) paint(classOf, ground, area, (now) => now | 1);
    const soils: (SoilIntake & { readonly name: string | null })[] = [
      {
        name: null,
        group: assumedSoilGroup,
        drained: false,
        surfaceKsatMetersPerSecond: null,
        restrictingKsatMetersPerSecond: null,
      },
      ...areas.map(({ name, properties }) => ({
        ...properties,
        // `soilAreas` left out those without.
        group: properties.hydrologicGroup!,
        // While the water table is up, drains do not help: a dual group is its second letter.
        drained: properties.drained && !waterTableUp,
        name: properties.series || name || null,
      })),
    ];
    const classes = soils.flatMap((soil) =>
      [siteCover, clearedCover].map((cover: Cover): SurfaceClass => ({
        curveNumber: curveNumberOf(cover, soil.group, soil.drained),
        intakeMetersPerSecond: intakeMetersPerSecond(soil),
        soil: soil.name,
        cover,
        group: singleGroup(soil.group, soil.drained),
      })),
    );
    return {
      classOf,
      classes,
      soilKnownShare: knownShare(classOf, ground.grid.data),
      intakeByGroup: soils.some(
        (soil) =>
          soil.surfaceKsatMetersPerSecond === null && soil.restrictingKsatMetersPerSecond === null,
      ),
    };
  },
};

/** Soil areas with a group and an outline that can be filled, by id. */
function soilAreas(inputs: Inputs): PlanFeature<'soil-area'>[] {
  return inputs
    .features('soil-area')
    .filter((feature) => isKind(feature, 'soil-area'))
    .filter(({ properties }) => Boolean(properties.hydrologicGroup))
    .toSorted((a, b) => (a.id < b.id ? -1 : 1));
}

/** Gives every cell whose centre lies in an area another class. */
function paint(
  classOf: Uint8Array,
  ground: GroundInUse,
  area: PlanFeature,
  next: (now: number) => number,
): void {
  eachCellIn(ground, area, (cell) => (classOf[cell] = next(classOf[cell]!)));
}

/** Every cell whose centre lies in an area; none where its outline cannot be filled. */
export function eachCellIn(
  ground: GroundInUse,
  area: PlanFeature,
  visit: (cell: number) => void,
): void {
  if (area.geometry.type !== 'Polygon' || findOutlineFault(area.geometry.coordinates)) return;
  const rings: RingsXY | null = ringsInFrame(area, ground.frame);
  if (!rings) return;
  const spans = polygonMask(ground.grid, rings);
  for (let i = 0; i < spans.count; i++) {
    const row = spans.row[i]! * ground.grid.width;
    for (let cell = row + spans.start[i]!; cell < row + spans.end[i]!; cell++) visit(cell);
  }
}

function knownShare(classOf: Uint8Array, z: Float32Array): number {
  let cells = 0;
  let known = 0;
  for (let i = 0; i < z.length; i++) {
    if (z[i] !== z[i]) continue;
    cells++;
    if (classOf[i]! > 1) known++;
  }
  return cells === 0 ? 0 : known / cells;
}
