import type { LevelPlace } from './tile-source.ts';

/**
 * The level whose cells are closest to a pixel's width on a logarithmic scale: bilinear sampling
 * then neither skips cells nor blurs. Finest level where pixels are smaller than cells. The answer
 * depends on the zoom only, so that neighbouring tiles never differ.
 */
export function chooseLevel(levels: readonly LevelPlace[], metersPerPixel: number): number {
  if (levels.length === 0) throw new RangeError('A pyramid has at least one level, got 0.');
  const finest = Math.min(levels[0].cellWidth, levels[0].cellHeight);
  const level = Math.round(Math.log2(metersPerPixel / finest));
  return Math.max(0, Math.min(levels.length - 1, level));
}
