/** What the strip under the map moves: saved with the plan, never part of undo. */
export interface Conditions {
  readonly rain: { readonly depthMeters: number; readonly durationHours: number };
  /** Where it blows from, degrees clockwise from true north; null direction is variable or calm. */
  readonly wind: { readonly fromDegrees: number | null; readonly speedMetersPerSecond: number };
  /** Instant, ISO 8601 in UTC. */
  readonly hourUtc: string;
}

/** The demo's storm (1.70 in in 6 h), a fair NW wind and a November evening. */
export const defaultConditions: Conditions = {
  rain: { depthMeters: 0.04318, durationHours: 6 },
  wind: { fromDegrees: 315, speedMetersPerSecond: 4 },
  hourUtc: '2026-11-14T21:10:00Z',
};
