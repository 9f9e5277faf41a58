import type { BermCure } from '../debris/berm-solve.ts';
import type { PlacedGap } from '../debris/gap-stations.ts';
import type { DebrisSteps } from '../debris/debris-mass.ts';
import type { DebrisVolume } from '../debris/debris-volume.ts';
import type { Doubt, LowHigh } from '../debris/low-high.ts';
import type { SpeciesGroup } from '../debris/timber-mass.ts';
import type { WindrowSection } from '../debris/windrow-sections.ts';

/** What clearing leaves, and what holds it. */

/** A row of a tally over its whole block. */
export interface BlockStems {
  readonly speciesGroup: SpeciesGroup;
  readonly diameterMeters: number;
  readonly count: number;
}

/** Debris of one timber block that is cleared. */
export interface TimberDebris extends DebrisVolume {
  readonly areaSquareMeters: number;
  readonly stems: readonly BlockStems[];
  /** Dry. */
  readonly kilograms: LowHigh;
  readonly steps: DebrisSteps;
  /** Dry kilograms with one input at its low and its high, and why. */
  readonly doubts: readonly Doubt[];
}

/** What a berm or a heap holds as it is drawn. */
export interface DebrisRoom {
  readonly featureId: string;
  readonly kind: 'berm' | 'heap';
  readonly cubicMeters: number;
}

/** Debris of the whole job. */
export interface SiteDebris extends DebrisVolume {
  readonly clearedSquareMeters: number;
  readonly blockCount: number;
  readonly kilograms: LowHigh;
  readonly steps: DebrisSteps;
  /** Blocks to be cleared whose trees nobody has counted: they are left out. */
  readonly untalliedIds: readonly string[];
  /** In the order of their ids, heaps first. */
  readonly room: readonly DebrisRoom[];
  readonly roomCubicMeters: number;
  /** Likely loose volume that nothing drawn has room for. */
  readonly leftOverCubicMeters: number;
}

/** A berm against the debris that is left for it when everything else drawn is full. */
export interface BermHolds {
  readonly holdsCubicMeters: number;
  readonly shareCubicMeters: LowHigh;
  /** Toe to toe with its drawn section and gaps; null where its round ends alone hold more. */
  readonly neededLengthMeters: LowHigh | null;
  /** On the drawn line with the sides as they stand; null where it cannot be. */
  readonly neededSection: null | {
    readonly section: WindrowSection;
    readonly leftOverCubicMeters: number;
    readonly shortParts: number;
    readonly cure: BermCure | null;
  };
  /** Metres out for a metre up. */
  readonly sideRun: number;
  /** Heights after one, two and three years. */
  readonly settledMeters: readonly LowHigh[];
}

/** The gaps that a berm should have, in the order of its line; none where they cannot be set. */
export interface BermGaps {
  readonly gaps: readonly (PlacedGap & { readonly at: readonly [number, number] })[];
  /** Of the whole line. */
  readonly lengthMeters: number;
  /** Holds with these gaps what the drawn section holds without any; null where none does. */
  readonly section: WindrowSection | null;
  /** What even the greatest height does not hold. */
  readonly leftOverCubicMeters: number;
}
