import type { ClearanceFrom } from '../debris/burn-clearances.ts';
import type { BermCure } from '../debris/berm-solve.ts';
import type { SecondYear } from '../estimate/second-year.ts';
import type { StumpMap } from '../estimate/stump-map.ts';
import type { ClearingHours, OffTable } from '../estimate/clearing-hours.ts';
import type { DebrisScale } from './debris-scale.ts';
import type { PlanFeature } from '../plan/feature.ts';
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
  /** What taped heaps say of the whole; null while they say nothing. */
  readonly remeasured: DebrisScale['remeasured'];
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
  /** Metres out for a metre up; null while it says no height or width. */
  readonly sideRun: number | null;
  /** Heights after one, two and three years. */
  readonly settledMeters: readonly LowHigh[];
}

/** A brush pile by its shape, and what of the debris comes to it. */
export interface HeapHolds {
  /** Null while it says no size. */
  readonly holdsCubicMeters: number | null;
  /** No more than it holds; null while no debris is known, or no size, and of one that stands already. */
  readonly comesCubicMeters: number | null;
  /** Heights after one, two and three years; none while it says no height. */
  readonly settledMeters: readonly LowHigh[];
}

/** The gaps that a berm should have, in the order of its line; none where they cannot be set. */
export interface BermGaps {
  readonly gaps: readonly (PlacedGap & { readonly at: readonly [number, number] })[];
  /** Of the whole line. */
  readonly lengthMeters: number;
  /** Holds with these gaps what the berm holds as drawn; null where none does. */
  readonly section: WindrowSection | null;
  /** What seats near see of the plots near it, as it is drawn and with these gaps and section. */
  readonly seats: readonly (SeatView & { readonly seenShareWithGaps: number })[];
  /** What even the greatest height does not hold. */
  readonly leftOverCubicMeters: number;
}

/** Where the debris is pushed as drawn. */
export interface PushSummary {
  /** By volume; null where nothing is pushed. */
  readonly meanMeters: number | null;
  readonly greatestMeters: number | null;
  /** Of the volume whose ground is known. */
  readonly uphillShare: number | null;
  readonly placedCubicMeters: number;
  readonly leftOverCubicMeters: number;
  /** Of the volume, pushed over 300 ft. */
  readonly farShare: number;
  /** What comes to each part of a berm or heap from each side, largest first. */
  readonly arrows: readonly {
    readonly from: readonly [number, number];
    readonly to: readonly [number, number];
    readonly cubicMeters: number;
  }[];
}

/** Machine hours of the whole clearing as drawn. */
export interface ClearingWork {
  readonly hours: LowHigh;
  readonly basis: ClearingHours['basis'];
  /** Likely hours of each by the tables, whatever the basis. */
  readonly steps: { readonly felling: number; readonly piling: number; readonly pushing: number };
  readonly offTable: readonly OffTable[];
  readonly doubts: readonly Doubt[];
  /** In the plan's own money; null while no hourly rate is said. */
  readonly cost: LowHigh | null;
  readonly push: PushSummary | null;
  readonly stumps: StumpMap | null;
  /** After what is to burn has burned; null where nothing is. */
  readonly nextYear: SecondYear | null;
}

/** From what is to burn to the nearest thing of a kind, on the ground. */
export interface BurnDistance {
  readonly fireId: string;
  readonly from: ClearanceFrom;
  readonly targetId: string;
  readonly meters: number;
  readonly line: readonly [readonly [number, number], readonly [number, number]];
  readonly rules: readonly {
    readonly meters: number;
    readonly source: 'usual' | 'published';
    /** 0 where it does not fall short. */
    readonly shortMeters: number;
  }[];
}

/** What burning a berm or heap comes near to, gives off and leaves. */
export interface Burning {
  readonly distances: readonly BurnDistance[];
  /** Kinds that a clearance is set for and nobody has drawn: not known. */
  readonly notDrawn: readonly ClearanceFrom[];
  /** With the wind of the strip; null where it is variable. */
  readonly smokeTowardDegrees: number | null;
  readonly emissions: null | {
    readonly consumedKilograms: LowHigh;
    readonly pm25Kilograms: LowHigh;
    readonly coKilograms: LowHigh;
  };
  /** Heaped round the year after. */
  readonly remnant: {
    readonly cubicMeters: number;
    readonly widthMeters: number;
    readonly heightMeters: number;
  };
  /** Of a windrow; null of a heap. */
  readonly longestPartMeters: number | null;
  readonly narrowestBreakMeters: number | null;
}

export type WayKind = 'heaps' | 'edge-berm' | 'centre-windrow';

/** What a seat sees of the plot, by shares of its ground; deer stand 3 ft high. */
export interface SeatView {
  readonly standId: string;
  readonly seenShareBefore: number;
  readonly seenShare: number;
}

/** One way to lay the debris of a clearing, and what comes of it. */
export interface ClearingWay {
  readonly way: WayKind;
  /** To be put into the plan; empty where this way cannot be laid here. */
  readonly features: readonly PlanFeature<'berm' | 'heap'>[];
  readonly holdsCubicMeters: number;
  /** Of the debris, what it has no room for within a push. */
  readonly leftOverCubicMeters: number;
  readonly plantableSquareMeters: number;
  readonly nextFallSquareMeters: number;
  /** Under it, without the strip round it; inside the outline or not. */
  readonly footprintSquareMeters: number;
  /** To fell, grub, pile and push; null where the trees or the machine do not let it be said. */
  readonly hours: LowHigh | null;
  /** In the plan's own money; null while no hourly rate is said. */
  readonly cost: LowHigh | null;
  /** To heap what a fire leaves and blade what comes free; null where nothing burns. */
  readonly nextYearHours: LowHigh | null;
  /** What of them pushing farther than piling takes. */
  readonly pushHours: LowHigh | null;
  readonly meanPushMeters: number | null;
  readonly greatestPushMeters: number | null;
  readonly uphillShare: number | null;
  /** Brim full; null without ground. */
  readonly dammedSquareMeters: number | null;
  /** Ground whose water is turned aside; null without ground. */
  readonly turnedSquareMeters: number | null;
  /** Of what is to burn; none where nothing is. */
  readonly distances: readonly BurnDistance[];
  readonly notDrawn: readonly ClearanceFrom[];
  readonly seats: readonly SeatView[];
  /** Of the lanes' length within reach of the plot, in sight of it; null without lanes or ground. */
  readonly laneSeenShare: number | null;
  readonly laneSeenShareBefore: number | null;
}

/** The three ways for one outline; nothing else of debris is taken as drawn. */
export interface ClearingWays {
  readonly debrisCubicMeters: LowHigh;
  readonly ways: readonly ClearingWay[];
  /** Where the published table does not reach, and how the hours were come by. */
  readonly hoursBasis: ClearingHours['basis'] | null;
  readonly offTable: readonly OffTable[];
}
