import type { Cover } from './curve-numbers.ts';
import type { RationalCover } from './runoff-coefficient.ts';
import { sheetRoughness } from './travel-time.ts';

/** A cover of the curve-number tables as the other two tables know it (the nearest row; ours). */
export function flowCover(cover: Cover): {
  readonly sheetRoughness: number;
  readonly rational: RationalCover;
} {
  if (/^(woods-(poor|fair|good)|brush)/.test(cover)) {
    const thin = cover === 'brush-poor';
    return {
      sheetRoughness: sheetRoughness[thin ? 'dense-grass' : 'woods-light-underbrush'],
      rational: 'woods',
    };
  }
  if (/^(meadow|pasture|woods-grass)/.test(cover)) {
    const short = cover.endsWith('-poor');
    return {
      sheetRoughness: sheetRoughness[short ? 'short-prairie-grass' : 'dense-grass'],
      rational: 'pasture',
    };
  }
  if (cover === 'farmstead') {
    return { sheetRoughness: sheetRoughness['short-prairie-grass'], rational: 'pasture' };
  }
  if (/^(newly-graded|dirt-road|gravel-road|paved)/.test(cover)) {
    return { sheetRoughness: sheetRoughness.bare, rational: 'cultivated' };
  }
  const residue = cover === 'fallow-residue-good' || cover.startsWith('legumes');
  return {
    sheetRoughness:
      sheetRoughness[residue ? 'cultivated-much-residue' : 'cultivated-little-residue'],
    rational: 'cultivated',
  };
}
