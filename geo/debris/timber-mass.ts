import type { PropertiesOf } from '../plan/kinds.ts';

/** One row of a tally: stems of one species group and thickness, and how much of it is sold. */
export type TallyRow = PropertiesOf<'timber-block'>['tally'][number];
export type SpeciesGroup = TallyRow['speciesGroup'];

/**
 * Jenkins et al. 2003, For. Sci. 49(1):12–35, table 4 (handbook §3):
 * above-ground kg = exp(b0 + b1 ln dbh cm), for trees of 2.5 cm and more.
 */
const equations: Readonly<Record<SpeciesGroup, readonly [b0: number, b1: number]>> = {
  'aspen-alder-cottonwood-willow': [-2.2094, 2.3867],
  'soft-maple-birch': [-1.9123, 2.3651],
  'mixed-hardwood': [-2.48, 2.4835],
  'hard-maple-oak-hickory-beech': [-2.0127, 2.4342],
  'cedar-larch': [-2.0336, 2.2592],
  'douglas-fir': [-2.2304, 2.4435],
  'true-fir-hemlock': [-2.5384, 2.4814],
  pine: [-2.5356, 2.4349],
  spruce: [-2.0773, 2.3323],
  'juniper-oak-mesquite': [-0.7152, 1.7029],
};

const softwoods: ReadonlySet<SpeciesGroup> = new Set([
  'cedar-larch',
  'douglas-fir',
  'true-fir-hemlock',
  'pine',
  'spruce',
]);

/** Whether a species group counts as softwood in the tables; woodland oak and mesquite do not. */
export function isSoftwood(group: SpeciesGroup): boolean {
  return softwoods.has(group);
}

type Line = readonly [a0: number, a1: number];

/** The same paper, table 6: ratio to the above-ground mass = exp(a0 + a1 / dbh cm). */
const ratioLines: Readonly<Record<'hard' | 'soft', Readonly<Record<string, Line>>>> = {
  hard: {
    foliage: [-4.0813, 5.8816],
    roots: [-1.6911, 0.816],
    bark: [-2.0129, -1.6805],
    wood: [-0.3065, -5.424],
  },
  soft: {
    foliage: [-2.9584, 4.4766],
    roots: [-1.5619, 0.6614],
    bark: [-2.098, -1.1432],
    wood: [-0.3737, -1.8055],
  },
};

/** Shares of the above-ground mass; roots come on top of it, the other four make it up. */
export interface TreeParts {
  readonly foliage: number;
  readonly bark: number;
  readonly wood: number;
  readonly branches: number;
  readonly roots: number;
}

const LEAST_CM = 2.5;

/**
 * Oven-dry above-ground mass of one tree, kg, by its diameter at breast height in metres (at the
 * root collar for juniper, woodland oak and mesquite). Under 2.5 cm, where the equations end, mass
 * falls in proportion to the diameter, as the US Forest Service's growth model does it.
 * Throws RangeError for a diameter that is not above 0.
 * Example: an oak of 0.30 m weighs 526.6 kg.
 */
export function treeMassKilograms(group: SpeciesGroup, diameterMeters: number): number {
  const cm = centimeters(diameterMeters);
  const [b0, b1] = equations[group];
  const mass = Math.exp(b0 + b1 * Math.log(Math.max(cm, LEAST_CM)));
  return cm < LEAST_CM ? (mass * cm) / LEAST_CM : mass;
}

/**
 * What a tree is made of, as shares of its above-ground mass. The woodland group has the hardwoods'
 * ratios (as in the US Forest Service's growth model).
 * Throws RangeError for a diameter that is not above 0.
 * Example: a hardwood of 0.30 m is 0.614 stem wood and has coarse roots of 0.189.
 */
export function treeParts(group: SpeciesGroup, diameterMeters: number): TreeParts {
  const cm = Math.max(centimeters(diameterMeters), LEAST_CM);
  const lines = ratioLines[softwoods.has(group) ? 'soft' : 'hard'];
  const ratio = (part: string) => Math.exp(lines[part]![0] + lines[part]![1] / cm);
  const [foliage, bark, wood, roots] = ['foliage', 'bark', 'wood', 'roots'].map(ratio);
  return { foliage, bark, wood, roots, branches: 1 - foliage - bark - wood };
}

/**
 * Oven-dry above-ground mass of a tally, kilograms on a hectare.
 * Throws RangeError as `treeMassKilograms` does; a tally from outside goes through `checkTally`.
 */
export function timberMass(rows: readonly TallyRow[]): number {
  return rows.reduce(
    (sum, { speciesGroup, diameterMeters, stemsPerHectare }) =>
      sum + stemsPerHectare * treeMassKilograms(speciesGroup, diameterMeters),
    0,
  );
}

function centimeters(diameterMeters: number): number {
  if (!(diameterMeters > 0 && diameterMeters < Infinity)) {
    throw new RangeError(`a tree ${diameterMeters} m thick`);
  }
  return diameterMeters * 100;
}
