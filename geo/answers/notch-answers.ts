import type { MinutesRange } from '../estimate/dirt-minutes.ts';
import type { CoverVerdict, OutletVerdict } from '../water/notch-flow.ts';
import type { ChannelCover, ChannelSoil } from '../water/permissible-speed.ts';

/** What is answered about a notch once its line is found: its flow, its work, roads in its way. */

/** The most water that comes through a notch at once. */
export interface NotchPeak {
  readonly method: 'graphical' | 'rational';
  /** By that method; both stand below. */
  readonly cubicMetersPerSecond: number;
  readonly graphicalCubicMetersPerSecond: number;
  readonly rationalCubicMetersPerSecond: number;
  readonly catchmentSquareMeters: number;
  /** Of the catchment, for how wet the ground is. */
  readonly curveNumber: number;
  /** Share of the rain's rate that runs off, for the rational formula. */
  readonly coefficient: number;
  readonly concentrationHours: number;
  readonly longestWayMeters: number;
  readonly slopeRatio: number;
  /** Rain of 24 hours as rare as the one under the map. */
  readonly dayRainMeters: number;
  readonly rainBy: 'table' | 'day-shares';
}

/** A notch with that water in it. */
export interface NotchRun {
  readonly id: string;
  readonly isBarred: boolean;
  readonly peak: NotchPeak;
  readonly soil: ChannelSoil;
  readonly bare: CoverVerdict;
  readonly inGrass: CoverVerdict;
  /** The poorest cover under which it holds; null where it washes even under good grass. */
  readonly holdsFrom: ChannelCover | null;
  readonly fastestMetersPerSecond: number;
  /** Water in tall grass stands higher than the notch is deep: some is left on the spot meanwhile. */
  readonly tooSmall: boolean;
  readonly deepestMeters: number;
  readonly cutMeters: number;
  /** What would do, where it washes or is too small; null where 60 ft do not, or nothing is amiss. */
  readonly widerBottomMeters: number | null;
  /** Stone that stays in it, where it washes. */
  readonly stoneMeters: number | null;
  /** Null where the ground at its end has no slope. */
  readonly outlet: (OutletVerdict & { readonly stoneMeters: number | null }) | null;
  readonly steepestBelowRatio: number;
  readonly steepBelow: boolean;
}

export interface NotchFlows {
  /** Every way out that has a notch, in their order. */
  readonly runs: readonly NotchRun[];
  readonly twoYearRainMeters: number;
}

/** Machine time of one way out against filling, and which is the better. */
export interface NotchJob {
  readonly id: string;
  /** Null where there is no notch. */
  readonly cutMinutes: MinutesRange | null;
  readonly fillMinutes: MinutesRange;
  /** By the likely minutes; neither where digging or filling touches what must be asked for first. */
  readonly better: 'cut' | 'fill' | 'neither';
}

export interface NotchWork {
  readonly jobs: readonly NotchJob[];
  /** Borrowed dirt for filling is pushed so far. */
  readonly fillPushMeters: number;
}

/** A road that a low spot ponds behind, or whose fill its notch would cut. */
export interface CulvertQuestion {
  readonly id: string;
  readonly roadId: string;
  readonly roadName: string;
  readonly at: readonly [number, number];
  /** Drawn: water has to be let fall on what is drawn. None: somebody said so. */
  readonly state: 'ask' | 'drawn' | 'none-there';
}

export interface CulvertQuestions {
  readonly questions: readonly CulvertQuestion[];
}
