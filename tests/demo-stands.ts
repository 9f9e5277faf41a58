import { beddings, plots, stands, type Place } from '../fixtures/generator/layout.ts';
import type { ProtectedGround } from '../geo/wind/seat-reach.ts';

/** What scent must not reach on the demo tract: plots and bedding (trade notes, section 6.4). */
export const demoProtected: readonly ProtectedGround[] = Object.entries({
  ...plots,
  ...beddings,
}).map(([id, ring]) => ({ id, shape: { kind: 'area', paths: [ring] } }));

/** The demo's stands, and B1 where it would have to stand for its setback. */
export const demoSeats: readonly { id: string; at: Place; facingDegrees: number }[] = [
  ...Object.entries(stands).map(([id, stand]) => ({ id, ...stand })),
  { id: 'B1 moved', at: [522.5, 426.5], facingDegrees: 233 },
];
