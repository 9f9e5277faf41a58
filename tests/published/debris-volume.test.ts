import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { addDebris, debrisMass, usualChoices } from '../../geo/debris/debris-mass.ts';
import { debrisVolume, usualPiling } from '../../geo/debris/debris-volume.ts';
import { treeMassKilograms, treeParts, type SpeciesGroup } from '../../geo/debris/timber-mass.ts';
import { timberMass } from '../../geo/debris/timber-mass.ts';
import { rowFromBasalArea, rowsFromStrip } from '../../geo/debris/tally-rows.ts';
import { groupDensity, speciesDensities } from '../../geo/debris/wood-density.ts';
import { lengthForVolume } from '../../geo/debris/berm-solve.ts';
import { sectionArea } from '../../geo/debris/windrow-sections.ts';
import {
  cubicMetersFromCubicFeet,
  cubicYardsFromCubicMeters,
  feetFromMeters,
  kilogramsFromPounds,
  metersFromFeet,
  metersFromInches,
  squareMetersFromAcres,
  tonsFromKilograms,
} from '../../geo/frame/units.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { valueOf } from '../result-value.ts';

/** Handbook §3: Jenkins et al. 2003, Forest Science 49(1):12–35, table 4; kg at 10 … 50 cm. */
const jenkins: readonly [SpeciesGroup, readonly number[]][] = [
  ['aspen-alder-cottonwood-willow', [26.74, 139.84, 368.06, 731.32, 1245.67]],
  ['soft-maple-birch', [34.25, 176.43, 460.3, 908.93, 1540.75]],
  ['mixed-hardwood', [25.49, 142.58, 390.28, 797.38, 1387.85]],
  ['hard-maple-oak-hickory-beech', [36.32, 196.27, 526.63, 1060.79, 1826.12]],
  ['cedar-larch', [23.77, 113.79, 284.4, 544.74, 901.84]],
  ['douglas-fir', [29.84, 162.34, 437.22, 883.05, 1523.29]],
  ['true-fir-hemlock', [23.93, 133.65, 365.52, 746.34, 1298.41]],
  ['pine', [21.56, 116.6, 312.93, 630.46, 1085.49]],
  ['spruce', [26.92, 135.59, 349.08, 682.85, 1149.07]],
  ['juniper-oak-mesquite', [24.68, 80.34, 160.24, 261.54, 382.44]],
];

describe('dry mass of trees (Jenkins et al. 2003)', () => {
  test.each(jenkins)('%s', (group, kilograms) => {
    kilograms.forEach((mass, i) => {
      expect(treeMassKilograms(group, (i + 1) / 10)).toBeCloseTo(mass, 2);
    });
  });

  test('component ratios at 30 cm, hardwood and softwood', () => {
    const hard = treeParts('hard-maple-oak-hickory-beech', 0.3);
    const soft = treeParts('pine', 0.3);
    const order = ['foliage', 'roots', 'bark', 'wood', 'branches'] as const;
    const published = [
      [0.0205, 0.1894, 0.1263, 0.6143, 0.2389],
      [0.0603, 0.2144, 0.1181, 0.648, 0.1736],
    ];
    order.forEach((part, i) => {
      expect(hard[part]).toBeCloseTo(published[0]![i]!, 4);
      expect(soft[part]).toBeCloseTo(published[1]![i]!, 4);
    });
  });

  test('worked trees: oak of 30 cm, pine of 12 in', () => {
    const oak = treeMassKilograms('hard-maple-oak-hickory-beech', 0.3);
    const parts = treeParts('hard-maple-oak-hickory-beech', 0.3);
    expect(oak).toBeCloseTo(526.63, 2);
    expect(oak / kilogramsFromPounds(1)).toBeCloseTo(1161, 1);
    expect(oak * parts.foliage).toBeCloseTo(10.82, 2);
    expect(oak * parts.bark).toBeCloseTo(66.53, 2);
    expect(oak * parts.wood).toBeCloseTo(323.5, 1);
    expect(oak * parts.roots).toBeCloseTo(99.74, 2);
    expect(treeMassKilograms('pine', metersFromInches(12))).toBeCloseTo(325.26, 2);
  });

  test('under 2.5 cm in proportion, as the US Forest Service growth model (fmcbio.f)', () => {
    const least = treeMassKilograms('spruce', 0.025);
    expect(treeMassKilograms('spruce', 0.01)).toBeCloseTo(least * 0.4, 12);
  });
});

describe('tallies', () => {
  test('basal area and mean diameter: 80 ft² of 10 in trees is 147 an acre (80 / 0.5454)', () => {
    // The foresters' constant 0.005454 d² ft² (from memory; it is π/4/144).
    const acres = 2.47105381;
    const row = valueOf(rowFromBasalArea('pine', (80 * 0.09290304 * acres), metersFromInches(10))); // prettier-ignore
    expect(row.stemsPerHectare / acres).toBeCloseTo(80 / 0.5454, 1);
  });

  test('a strip of 100 m × 10 m is a tenth of a hectare (handbook §4.2)', () => {
    const counts = [{ speciesGroup: 'pine', diameterMeters: 0.2, count: 25 }] as const;
    const { rows, countErrorShare } = valueOf(rowsFromStrip(counts, 100, 10));
    expect(rows[0]!.stemsPerHectare).toBeCloseTo(250, 9);
    expect(timberMass(rows)).toBeCloseTo(250 * 116.6, -1);
    expect(countErrorShare).toBeCloseTo(0.4, 12);
  });
});

test('basic densities: specific gravity × 62.4 lb/ft³ (handbook §2)', () => {
  const table = { 'northern red oak': 34.9, 'white oak': 37.4, 'loblolly pine': 29.3, 'eastern redcedar': 27.5, 'Douglas-fir': 28.1 } as const; // prettier-ignore
  for (const [name, pounds] of Object.entries(table)) {
    const perCubicFoot = speciesDensities[name as keyof typeof table] * 0.0624;
    expect(Math.abs(perCubicFoot - pounds)).toBeLessThan(0.06);
  }
  expect(groupDensity('hard-maple-oak-hickory-beech').likely).toBeCloseTo(584, 9);
});

test('worked chain of handbook §2: 7.94 tons of Douglas-fir in 3,141.59 ft³', () => {
  const mass = kilogramsFromPounds(15_879);
  expect(tonsFromKilograms(mass)).toBeCloseTo(7.94, 2);
  const same = (value: number) => ({ low: value, likely: value, high: value });
  const { looseCubicMeters, solidCubicMeters } = valueOf(
    debrisVolume(same(mass), new Map([['douglas-fir', mass]]), {
      ...usualPiling,
      packing: same(0.2),
      soilShare: same(0.1),
    }),
  );
  // The printed 28.08 lb/ft³ is 0.45 × 62.4; water weighs 62.43.
  expect(solidCubicMeters.likely / cubicMetersFromCubicFeet(565.49)).toBeCloseTo(1, 3);
  expect(looseCubicMeters.likely / cubicMetersFromCubicFeet(3141.59)).toBeCloseTo(1, 3);
});

/** Trade notes §6.2 and §6.6: acres cleared, the tally and what is sold. */
describe('the demo’s trees to its berm', () => {
  const plan = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
    features: PlanFeature[];
  };
  const acres = { T1: 2.1, T2: 1.7 };
  const mass = addDebris(
    Object.entries(acres).map(([id, cleared]) => {
      const block = plan.features.find((feature) => feature.id === id)!;
      const { tally, stumps, tops } = (block as PlanFeature<'timber-block'>).properties;
      const choices = { ...usualChoices, stumps, tops };
      return valueOf(debrisMass(tally, squareMetersFromAcres(cleared), choices));
    }),
  );
  const volume = valueOf(
    debrisVolume(mass.kilograms, mass.byGroup, usualPiling, squareMetersFromAcres(3.8)),
  );

  test('164 t dry, 181 short tons', () => {
    expect(Math.round(mass.kilograms.likely / 1000)).toBe(164);
    expect(Math.round(tonsFromKilograms(mass.kilograms.likely))).toBe(181);
  });

  test('438 yd³ solid, 3,250 yd³ loose (2,300 to 5,800)', () => {
    expect(Math.round(cubicYardsFromCubicMeters(volume.solidCubicMeters.likely))).toBe(438);
    const { low, likely, high } = volume.looseCubicMeters;
    expect(Math.abs(cubicYardsFromCubicMeters(likely) / 3250 - 1)).toBeLessThan(0.01);
    expect(Math.abs(cubicYardsFromCubicMeters(low) / 2300 - 1)).toBeLessThan(0.01);
    expect(Math.abs(cubicYardsFromCubicMeters(high) / 5800 - 1)).toBeLessThan(0.01);
  });

  test('about 610 ft (430 to 1,100) of a parabola 24 ft wide and 9 ft high', () => {
    const [baseWidthMeters, heightMeters] = [metersFromFeet(24), metersFromFeet(9)];
    const section = { shape: 'parabola', baseWidthMeters, heightMeters } as const;
    const { low, likely, high } = volume.looseCubicMeters;
    const square = (cubicMeters: number) => feetFromMeters(cubicMeters / sectionArea(section));
    expect(Math.abs(square(likely) / 610 - 1)).toBeLessThan(0.01);
    expect(Math.abs(square(low) / 430 - 1)).toBeLessThan(0.01);
    expect(Math.abs(square(high) / 1100 - 1)).toBeLessThan(0.01);
    // The notes' ends are square; rounded ones take 9.9 ft more (24 ft less 2,035.75 / 144 ft²).
    const round = feetFromMeters(valueOf(lengthForVolume(section, likely)));
    expect(round - square(likely)).toBeCloseTo(24 - 2035.75 / 144, 3);
  });
});
