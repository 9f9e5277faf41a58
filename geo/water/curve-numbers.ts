import type { SoilGroup } from '../plan/kinds.ts';

/**
 * Curve numbers of covers that a food plot and its surroundings have, average runoff condition.
 * Source: TR-55 (1986), tables 2-2a, b and c. By hydrologic soil group A, B, C, D.
 */
export const curveNumbers = {
  'woods-poor': [45, 66, 77, 83],
  'woods-fair': [36, 60, 73, 79],
  'woods-good': [30, 55, 70, 77],
  'woods-grass-poor': [57, 73, 82, 86],
  'woods-grass-fair': [43, 65, 76, 82],
  'woods-grass-good': [32, 58, 72, 79],
  'brush-poor': [48, 67, 77, 83],
  'brush-fair': [35, 56, 70, 77],
  'brush-good': [30, 48, 65, 73],
  meadow: [30, 58, 71, 78],
  'pasture-poor': [68, 79, 86, 89],
  'pasture-fair': [49, 69, 79, 84],
  'pasture-good': [39, 61, 74, 80],
  'newly-graded': [77, 86, 91, 94],
  'fallow-residue-poor': [76, 85, 90, 93],
  'fallow-residue-good': [74, 83, 88, 90],
  'row-crop-poor': [72, 81, 88, 91],
  'row-crop-good': [67, 78, 85, 89],
  'small-grain-poor': [65, 76, 84, 88],
  'small-grain-good': [63, 75, 83, 87],
  'small-grain-contoured-good': [61, 73, 81, 84],
  'legumes-poor': [66, 77, 85, 89],
  'legumes-good': [58, 72, 81, 85],
  'dirt-road': [72, 82, 87, 89],
  'gravel-road': [76, 85, 89, 91],
  paved: [98, 98, 98, 98],
  farmstead: [59, 74, 82, 86],
} as const satisfies Record<string, readonly [number, number, number, number]>;

export type Cover = keyof typeof curveNumbers;

/** What a group counts as: a dual one is D unless it is drained, then its first letter (NEH 630 ch. 7). */
export function singleGroup(group: SoilGroup, drained: boolean): 'A' | 'B' | 'C' | 'D' {
  return (group.length === 1 || drained ? group[0] : 'D') as 'A' | 'B' | 'C' | 'D';
}

/** Curve number of a cover on a soil. Example: woods in good condition on B is 55. */
export function curveNumberOf(cover: Cover, group: SoilGroup, drained = false): number {
  return curveNumbers[cover]['ABCD'.indexOf(singleGroup(group, drained))]!;
}
