/** A figure with what it may be, low and high; `low` ≤ `likely` ≤ `high`. */
export interface LowHigh {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** What one doubtful input does: the whole with its low and its high alone, and why. */
export interface Doubt {
  readonly about: string;
  readonly low: number;
  readonly high: number;
  /** One plain sentence. */
  readonly reason: string;
}

export function scaleLowHigh({ low, likely, high }: LowHigh, factor: number): LowHigh {
  return { low: low * factor, likely: likely * factor, high: high * factor };
}

/**
 * A whole whose doubts do not hang together: distances from the likely value add up as the root of
 * the sum of their squares, downward and upward apart; never below 0.
 * Example: likely 100 with doubts 97 to 103 and 96 to 104 is 95 to 105.
 */
export function withDoubts(likely: number, doubts: readonly Doubt[]): LowHigh {
  const down = Math.hypot(...doubts.map(({ low }) => Math.max(0, likely - low)));
  const up = Math.hypot(...doubts.map(({ high }) => Math.max(0, high - likely)));
  return { low: Math.max(0, likely - down), likely, high: likely + up };
}

/**
 * The same for a whole that is a product: the ratios of low and high to likely are put together as
 * logarithms. Nothing likely is nothing at all.
 * Example: factors 0.5 to 2 and 1 to 1 about 100 give 50 to 200.
 */
export function timesDoubts(likely: number, factors: readonly LowHigh[]): LowHigh {
  if (likely === 0 || factors.some((factor) => factor.likely === 0)) {
    return { low: 0, likely: 0, high: 0 };
  }
  const down = Math.hypot(...factors.map((factor) => Math.log(factor.likely / factor.low)));
  const up = Math.hypot(...factors.map((factor) => Math.log(factor.high / factor.likely)));
  return { low: likely * Math.exp(-down), likely, high: likely * Math.exp(up) };
}
