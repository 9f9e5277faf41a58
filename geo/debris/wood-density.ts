import type { SpeciesGroup } from './timber-mass.ts';
import type { LowHigh } from './low-high.ts';

/**
 * Basic density, kg of dry wood in a cubic metre of green wood: 1,000 × basic specific gravity,
 * Wood Handbook (FPL-GTR-282) table 5-3, as the project's handbook §2 has it.
 */
export const speciesDensities = {
  'northern red oak': 560,
  'white oak': 600,
  'shagbark hickory': 640,
  'sugar maple': 560,
  'red maple': 490,
  'American beech': 560,
  'white ash': 550,
  'paper birch': 480,
  'quaking aspen': 350,
  'yellow-poplar': 400,
  'black cottonwood': 310,
  'red alder': 370,
  'Douglas-fir': 450,
  'ponderosa pine': 380,
  'lodgepole pine': 380,
  'western hemlock': 420,
  'western redcedar': 310,
  'western larch': 480,
  'loblolly pine': 470,
  'eastern white pine': 340,
  'red pine': 410,
  'jack pine': 400,
  'balsam fir': 330,
  'eastern redcedar': 440,
} as const;

type Species = keyof typeof speciesDensities;

/** Who stands for a group: one that is commonest on ground cleared for plots, or all of them. */
const members: Readonly<
  Record<SpeciesGroup, { usual: readonly Species[]; all: readonly Species[] }>
> = {
  'aspen-alder-cottonwood-willow': group('quaking aspen', 'black cottonwood', 'red alder'),
  'soft-maple-birch': group('red maple', 'paper birch'),
  'mixed-hardwood': group('white ash', 'yellow-poplar'),
  'hard-maple-oak-hickory-beech': group(
    'northern red oak',
    'white oak',
    'shagbark hickory',
    'sugar maple',
    'American beech',
  ),
  'cedar-larch': {
    usual: ['eastern redcedar'],
    all: ['western redcedar', 'western larch', 'eastern redcedar'],
  },
  'douglas-fir': group('Douglas-fir'),
  'true-fir-hemlock': group('western hemlock', 'balsam fir'),
  pine: {
    usual: ['loblolly pine'],
    all: ['ponderosa pine', 'lodgepole pine', 'loblolly pine', 'eastern white pine', 'red pine', 'jack pine'], // prettier-ignore
  },
  // The handbook has no spruce; the nearest that it has.
  spruce: group('balsam fir', 'western hemlock'),
  'juniper-oak-mesquite': group('eastern redcedar', 'white oak'),
};

function group(...all: Species[]) {
  return { usual: all, all };
}

/**
 * Basic density of a species group, kg/m³: `likely` the mean of those that stand for it, `low` and
 * `high` the lightest and the heaviest in the table. Naming the species makes it exact.
 * Example: oak and its like 584, of 560 to 640.
 */
export function groupDensity(speciesGroup: SpeciesGroup): LowHigh {
  const { usual, all } = members[speciesGroup];
  const every = all.map((name) => speciesDensities[name]);
  const likely = usual.reduce((sum, name) => sum + speciesDensities[name], 0) / usual.length;
  return { low: Math.min(...every), likely, high: Math.max(...every) };
}
