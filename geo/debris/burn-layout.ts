import { ok, type Result } from '../result.ts';
import { badNumber, notAboveZero } from './check-numbers.ts';

/** What a county fire service and a provincial forestry print (handbook §12.1), metres. */
export const publishedLayout = {
  longestMeters: 60,
  breakMeters: 8,
  widestMeters: 6,
  pilesAtOnce: 5,
} as const;

export interface BurnLayout {
  /** Parts longer than printed, by index, and by how much. */
  readonly tooLong: readonly { readonly part: number; readonly overMeters: number }[];
  /** Breaks between parts narrower than printed, by index of the part before. */
  readonly tooNarrow: readonly { readonly after: number; readonly shortMeters: number }[];
  /** Wider than printed by so much; 0 where it is not. */
  readonly widerMeters: number;
}

/**
 * A windrow that is to burn against the printed figures: parts of at most 60 m, breaks of 8 m,
 * 6 m wide. What is printed, not what is allowed where you are.
 * @param parts stations from, to along its line, rising, metres (`gapStations`)
 * Problems: values out of bounds.
 * Example: parts of 61 and 40 m, 5 m apart, 7.3 m wide: 1 m too long, 3 m too near, 1.3 m too wide.
 */
export function burnLayout(
  parts: readonly (readonly [from: number, to: number])[],
  widthMeters: number,
): Result<BurnLayout> {
  const bad = notAboveZero({ 'windrow width': widthMeters });
  if (bad) return bad;
  for (const [from, to] of parts) {
    const wrong =
      badNumber({ 'start of a part': from }, 0, 1e6) ?? badNumber({ 'end of a part': to }, from, 1e6); // prettier-ignore
    if (wrong) return wrong;
  }
  const { longestMeters, breakMeters, widestMeters } = publishedLayout;
  return ok({
    tooLong: parts
      .map(([from, to], part) => ({ part, overMeters: to - from - longestMeters }))
      .filter(({ overMeters }) => overMeters > 1e-9),
    tooNarrow: parts
      .slice(1)
      .map(([from], after) => ({ after, shortMeters: breakMeters - (from - parts[after]![1]) }))
      .filter(({ shortMeters }) => shortMeters > 1e-9),
    widerMeters: Math.max(0, widthMeters - widestMeters),
  });
}
