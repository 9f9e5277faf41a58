/** Debris lying at a place, plane metres. */
export interface DebrisSource {
  readonly x: number;
  readonly y: number;
  readonly cubicMeters: number;
}

/** Somewhere to push it to; room may be Infinity. */
export interface DebrisSink {
  readonly cubicMeters: number;
  /** Metres from a place to its nearest part. */
  readonly distanceTo: (x: number, y: number) => number;
}

export interface NearestFirst {
  /** What each sink gets. */
  readonly placed: Float64Array;
  /** What each source keeps because nothing within reach has room. */
  readonly left: Float64Array;
}

/**
 * Pushes debris the way a dozer is driven: the shortest push first, each to where room is left, and
 * none further than `reachMeters`. Placed and left add up to what there was. Sources and sinks at
 * one distance go in their order.
 * Throws RangeError for a volume or room below 0.
 */
export function nearestFirst(
  sources: readonly DebrisSource[],
  sinks: readonly DebrisSink[],
  reachMeters: number,
): NearestFirst {
  const left = Float64Array.from(sources, ({ cubicMeters }) => cubicMeters);
  const room = Float64Array.from(sinks, ({ cubicMeters }) => cubicMeters);
  if ([...left, ...room].some((value) => !(value >= 0))) throw new RangeError('a volume below 0');
  const placed = new Float64Array(sinks.length);
  const pushes: { readonly from: number; readonly to: number; readonly meters: number }[] = [];
  sources.forEach(({ x, y }, from) => {
    sinks.forEach((sink, to) => {
      const meters = sink.distanceTo(x, y);
      if (meters <= reachMeters) pushes.push({ from, to, meters });
    });
  });
  pushes.sort((a, b) => a.meters - b.meters || a.from - b.from || a.to - b.to);
  for (const { from, to } of pushes) {
    const moved = Math.min(left[from]!, room[to]! - placed[to]!);
    left[from]! -= moved;
    placed[to]! += moved;
  }
  return { placed, left };
}
