/**
 * The sixteen steps from a cell to others, clockwise from due north, every second one a knight's
 * move: columns east and rows south. The opposite of step `s` is `s ^ 8`.
 */
export const stepColumns = [0, 1, 1, 2, 1, 2, 1, 1, 0, -1, -1, -2, -1, -2, -1, -1] as const;
export const stepRows = [-1, -2, -1, -1, 0, 1, 1, 2, 1, 2, 1, 1, 0, -1, -1, -2] as const;

export const STEPS = 16;

/** A grid on which something costs its way: what lies where. */
export interface CostPlace {
  readonly width: number;
  readonly height: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
}

/** The steps on one grid: index offsets, lengths, and the two cells passed between or over. */
export interface StepTable {
  readonly offset: Int32Array;
  readonly meters: Float64Array;
  /**
   * Of a knight's move the two cells that it crosses, of a diagonal one the two beside its corner;
   * for a straight step 0.
   */
  readonly passedA: Int32Array;
  readonly passedB: Int32Array;
}

export function stepTable({ width, cellWidth, cellHeight }: CostPlace): StepTable {
  const offset = new Int32Array(STEPS);
  const meters = new Float64Array(STEPS);
  const passedA = new Int32Array(STEPS);
  const passedB = new Int32Array(STEPS);
  for (let s = 0; s < STEPS; s++) {
    const [across, down] = [stepColumns[s]!, stepRows[s]!];
    offset[s] = down * width + across;
    meters[s] = Math.hypot(across * cellWidth, down * cellHeight);
    const [a, d] = [Math.sign(across), Math.sign(down) * width];
    if (s % 4 === 2) [passedA[s], passedB[s]] = [a, d];
    else if (s % 2 === 1) [passedA[s], passedB[s]] = [Math.abs(across) === 2 ? a : d, a + d];
  }
  return { offset, meters, passedA, passedB };
}
