/** Debris piled round is so many times as wide as high: 71 ft by 12 ft falls to it at its limit and
 * 40 ft by 11 ft meets it (trade notes §6.6); common practice, no source. */
const WIDTH_TO_HEIGHT = 3.5;

export interface RoundHeap {
  readonly widthMeters: number;
  readonly heightMeters: number;
}

/**
 * The round heap (a paraboloid, πhw²/8: PNW-GTR-364) that holds a volume: 3.5 times as wide as high
 * until it is as high as allowed, then wider. Throws RangeError for a volume below 0 or a limit not
 * above 0. Examples, 12 ft the limit: 266 yd³ is 40 ft wide and 11.4 ft high; 887 yd³ 71 ft wide.
 */
export function roundHeap(cubicMeters: number, maxHeightMeters: number): RoundHeap {
  if (!(cubicMeters >= 0 && cubicMeters < Infinity)) {
    throw new RangeError(`a heap of ${cubicMeters} m³`);
  }
  if (!(maxHeightMeters > 0)) throw new RangeError(`a height limit of ${maxHeightMeters} m`);
  const width = Math.cbrt((8 * WIDTH_TO_HEIGHT * cubicMeters) / Math.PI);
  if (width / WIDTH_TO_HEIGHT <= maxHeightMeters) {
    return { widthMeters: width, heightMeters: width / WIDTH_TO_HEIGHT };
  }
  const widthMeters = Math.sqrt((8 * cubicMeters) / (Math.PI * maxHeightMeters));
  return { widthMeters, heightMeters: maxHeightMeters };
}
