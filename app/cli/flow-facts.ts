import type { FlowLineShape } from '../../geo/answers/flow-answers.ts';
import { lineLengthMeters } from '../../geo/frame/geodesic.ts';

/** Flow lines in a few numbers; the lines themselves go into a file. */
export function flowFacts(lines: readonly FlowLineShape[]) {
  const length = lines.reduce((sum, { line }) => sum + lineLengthMeters(line), 0);
  const most = lines.flatMap(({ catchmentSquareMeters }) => catchmentSquareMeters);
  return {
    lines: lines.length,
    lengthMeters: length,
    largestCatchmentSquareMeters: most.reduce((max, area) => Math.max(max, area), 0),
  };
}
