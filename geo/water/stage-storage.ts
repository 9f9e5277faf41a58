/** One stage of a low spot as it fills. */
export interface Stage {
  /** Over the deepest place. */
  readonly depthMeters: number;
  readonly areaSquareMeters: number;
  readonly volumeCubicMeters: number;
}

/**
 * Stage–storage curve of a low spot: what it covers and holds as it fills to its spill, at equal
 * steps of depth, empty and brim full included. Heights of its cells, spill and the ground area of a
 * cell in metres and square metres. Source: definition; a cell is a flat-topped column.
 * Throws RangeError for no cells or no steps.
 * Example: of a cone's cells the volume at a third of the depth is 1/27 of the whole.
 */
export function stageStorage(
  heights: ArrayLike<number>,
  spillMeters: number,
  cellSquareMeters: number,
  steps = 10,
): Stage[] {
  if (heights.length === 0 || !(steps >= 1)) {
    throw new RangeError(`${steps} stages of ${heights.length} cells`);
  }
  const rising = Float64Array.from(heights).sort();
  const deepest = rising[0]!;
  const stages: Stage[] = [];
  let under = 0;
  let sum = 0;
  for (let step = 0; step <= steps; step++) {
    const level = deepest + ((spillMeters - deepest) * step) / steps;
    while (under < rising.length && rising[under]! < level) sum += rising[under++]!;
    stages.push({
      depthMeters: level - deepest,
      areaSquareMeters: under * cellSquareMeters,
      volumeCubicMeters: (under * level - sum) * cellSquareMeters,
    });
  }
  return stages;
}
