import { slopeClassLimits } from '../geo/answers/answers.ts';
import { elevationRamp, ink, waterRamp } from './palette.ts';
import { slopeLooks } from './tiles/paint-slope.ts';

/** What the legend draws and says; the panel turns metres into the user's units. */

/** A swatch that does not rest on colour alone. */
export interface Swatch {
  readonly fill: string;
  /** 0 to 1, over paper. */
  readonly opacity: number;
  /** Pixels between hatch lines, 0 for none; `crossed` is a second set across. */
  readonly hatchPitch: number;
  readonly crossed: boolean;
}

export interface ClassLegend {
  readonly swatch: Swatch;
  readonly words: string;
}

/** Slope classes, gentlest first: "under 2 %", "2 to 5 %" … "over 20 %". */
export const slopeLegend: readonly ClassLegend[] = slopeLooks.map((look, k) => ({
  swatch: { fill: ink, opacity: look.wash, hatchPitch: look.pitch, crossed: look.crossed },
  words: slopeWords(k),
}));

function slopeWords(k: number): string {
  const percent = slopeClassLimits.map((limit) => Math.round(limit * 100));
  if (k === 0) return `under ${percent[0]} %`;
  if (k === percent.length) return `over ${percent[k - 1]} %`;
  return `${percent[k - 1]} to ${percent[k]} %`;
}

export interface RampStop {
  readonly color: string;
  readonly meters: number;
}

/** Stops of the elevation tint, lowest first; colours run straight between them. */
export function elevationLegend(lowestMeters: number, highestMeters: number): RampStop[] {
  return elevationRamp.map((color, k) => ({
    color,
    meters: lowestMeters + ((highestMeters - lowestMeters) * k) / (elevationRamp.length - 1),
  }));
}

/** Greatest depth of a low spot that takes each colour of the water ramp, metres; the last is open. */
export const waterDepthLimitsMeters = [0.1, 0.2, 0.35, 0.6] as const;

export interface DepthLegend {
  readonly color: string;
  readonly fromMeters: number;
  /** Null for the deepest class. */
  readonly toMeters: number | null;
}

/** Depth of standing water, shallowest first; low spots are hatched besides. */
export const waterLegend: readonly DepthLegend[] = waterRamp.map((color, k) => ({
  color,
  fromMeters: k === 0 ? 0 : waterDepthLimitsMeters[k - 1],
  toMeters: k < waterDepthLimitsMeters.length ? waterDepthLimitsMeters[k] : null,
}));
