import type { SectionWater } from './section-water.ts';
import type { Stretch } from '../ground/stretches.ts';
import type { GroundRecord } from '../raster/ground-record.ts';
import type { Damming, LettingGaps } from './dam-answers.ts';
import type { CanopyStems } from './canopy-stems.ts';
import type {
  BermGaps,
  BermHolds,
  HeapHolds,
  Burning,
  ClearingWays,
  ClearingWork,
  SiteDebris,
  TimberDebris,
} from './debris-answers.ts';
import type { FlowLines, SpotDetails } from './flow-answers.ts';
import type { DiggingBar } from './digging-mask.ts';
import type { LeftOutSpots } from './listed-low-spots.ts';
import type { Basis, Finding } from './finding.ts';
import type { CulvertQuestions, NotchFlows, NotchWork } from './notch-answers.ts';
import type { StandLanes } from './lane-answers.ts';
import type { EveningPools } from './evening-pools.ts';
import type { SiteWind, StandSeasons, StandWinds } from './wind-answers.ts';
import type { Siting, StandShots, StandSight } from './shot-answers.ts';
import type { TakingKind } from './takings.ts';

/**
 * What each answer holds, by name. SI with units in names; the edge turns them into feet and acres.
 * An answer that cannot be given is null with a finding that says why.
 */

/** Grade of the survey behind an answer, in the trade's words (trade notes §7). */
export type SurveyGrade = 'survey-grade' | 'planning-grade' | 'walk-it-first';

export interface SurveyQuality {
  readonly grade: SurveyGrade;
  readonly surveyedOn: string | null;
  readonly clearing: GroundRecord['clearing'];
  /** One standard error of a height, metres: stated, or assumed from the cell size. */
  readonly verticalErrorMeters: number;
  readonly verticalErrorIsStated: boolean;
  readonly cellMeters: number;
}

export interface Answer<V> {
  readonly value: V;
  readonly findings: readonly Finding[];
  readonly basis: Basis;
}

export interface SiteGround {
  readonly survey: SurveyQuality;
  readonly cells: number;
  readonly cellsWithData: number;
  readonly areaSquareMeters: number;
  /** NaN, with the finding `ground-empty`, where no cell has data. */
  readonly lowestMeters: number;
  readonly highestMeters: number;
}

export interface LowSpot {
  /** P1, P2 … by volume, largest first. */
  readonly id: string;
  readonly areaSquareMeters: number;
  readonly volumeCubicMeters: number;
  readonly maxDepthMeters: number;
  readonly spillElevationMeters: number;
  /** [longitude, latitude] of the deepest cell's centre. */
  readonly deepestAt: readonly [number, number];
}

export interface SiteLowSpots {
  /** Listed ones only: at or over the depth and area below. */
  readonly lowSpots: readonly LowSpot[];
  /** Outlines of the listed ones when full: polygons of rings of [longitude, latitude]. */
  readonly outlines: Readonly<Record<string, readonly LngLatPolygon[]>>;
  /** Whole, unthresholded. */
  readonly totalAreaSquareMeters: number;
  readonly totalVolumeCubicMeters: number;
  readonly totalCount: number;
  /** The setting, and never under the survey's own error. */
  readonly listMinDepthMeters: number;
  readonly listMinAreaSquareMeters: number;
  readonly leftOut: LeftOutSpots;
}

/** Water that a storm leaves standing in a listed low spot. */
export interface StormPool {
  readonly id: string;
  readonly areaSquareMeters: number;
  readonly volumeCubicMeters: number;
  readonly maxDepthMeters: number;
  /** Share of what the low spot holds: likely, and for curve numbers 3 lower and 3 higher. */
  readonly fullShare: number;
  readonly fullShareLow: number;
  readonly fullShareHigh: number;
  /** Ground that drains into the low spot by the steepest of eight ways, itself included. */
  readonly catchmentSquareMeters: number;
  /** If no more rain falls; null where nothing takes it away. */
  readonly hoursToDry: number | null;
  /** From brim full in the growing season, whatever this storm leaves and whenever it falls. */
  readonly hoursToDryWhenFull: number | null;
  readonly deepestAt: readonly [number, number];
}

/** One storm over the whole site; the figures add up: rain is what stands, leaves and soaks. */
export interface SiteStorm {
  readonly rainMeters: number;
  readonly durationHours: number;
  /** Of the hour under the map, 1 to 12, and what evaporates on a day of it. */
  readonly month: number;
  readonly evaporationMetersPerDay: number;
  /** Mean over the site. */
  readonly curveNumber: number;
  /** Mean depth that runs off: likely, and for curve numbers 3 lower and 3 higher. */
  readonly runoffMeters: number;
  readonly runoffLowMeters: number;
  readonly runoffHighMeters: number;
  readonly rainCubicMeters: number;
  readonly runoffCubicMeters: number;
  readonly standingCubicMeters: number;
  readonly leftSiteCubicMeters: number;
  readonly soakedCubicMeters: number;
  /** Every listed low spot, dry ones too, in the order of the list. */
  readonly pools: readonly StormPool[];
  /** Shorelines of the pools that hold water. */
  readonly outlines: Readonly<Record<string, readonly LngLatPolygon[]>>;
}

/** A storm's water in one plot; all noughts where none stands. */
export interface PlotStorm {
  readonly wetAreaSquareMeters: number;
  readonly standingCubicMeters: number;
  readonly maxDepthMeters: number;
  /** If no more rain falls; null where nothing takes it away. */
  readonly hoursToDry: number | null;
}

/** How often each of the largest listed low spots is there, the survey's error being what it is. */
export interface SpotsSure {
  /** By id, 0 to 1. */
  readonly shares: Readonly<Record<string, number>>;
  readonly runs: number;
  readonly shortErrorMeters: number;
  readonly shortRangeMeters: number;
  readonly longErrorMeters: number;
  readonly longRangeMeters: number;
}

export interface VolumeRange {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** How one low spot could be let out, or filled. */
export interface WayOut {
  readonly id: string;
  readonly notch: null | {
    /** From the low spot outward. */
    readonly line: readonly (readonly [number, number])[];
    readonly lengthMeters: number;
    readonly maxCutMeters: number;
    readonly bottomWidthMeters: number;
    /** Metres out for a metre up. */
    readonly sideRun: number;
    /** Height of the bottom at both ends; it falls straight between. */
    readonly startBottomMeters: number;
    readonly endBottomMeters: number;
    readonly bankCubicMeters: VolumeRange;
    readonly looseCubicMeters: VolumeRange;
    readonly stations: readonly {
      readonly stationMeters: number;
      readonly at: readonly [number, number];
      readonly groundMeters: number;
      readonly bottomMeters: number;
      readonly cutMeters: number;
    }[];
    /** Fall of the bottom, metres a metre. */
    readonly gradeRatio: number;
    /** Mean from edge to edge of the cut. */
    readonly topWidthMeters: number;
    /** Fall of the ground from its end over the first 10 m. */
    readonly outletSlopeRatio: number;
    /** Steepest ground within 30 m ahead of and below its end. */
    readonly steepestBelowRatio: number;
    readonly spoil: {
      /** Along the cut, or spread in the low spot where that does not do. */
      readonly place: 'alongside' | 'low-spot';
      /** Seen from the low spot outward. */
      readonly side: 'left' | 'right';
      /** True bearing from the notch. */
      readonly towardDegrees: number;
      readonly lengthMeters: number;
      readonly widthMeters: number;
      readonly thicknessMeters: number;
      readonly pushMeters: number;
    };
    /** The ground it lets out onto is steep enough to wash. */
    readonly steepBelow: boolean;
    /** Its bottom reaches the top of the ground at the far end. */
    readonly comesOut: boolean;
  };
  /** Why there is no notch, in a sentence. */
  readonly why: string | null;
  /** What bars the cheapest way, or is dug into. */
  readonly bars: readonly DiggingBar[];
  readonly fill: {
    readonly inPlaceCubicMeters: VolumeRange;
    readonly bankCubicMeters: VolumeRange;
  };
}

export interface WaysOut {
  /** For the largest listed low spots, in the order of the list. */
  readonly ways: readonly WayOut[];
}

export type LngLatPolygon = readonly (readonly (readonly [number, number])[])[];

/** Upper limits of the slope classes as rise over run; the last class is open (trade notes Q9). */
export const slopeClassLimits = [0.02, 0.05, 0.1, 0.15, 0.2] as const;

export interface PlotLowSpot extends LowSpot {
  /** Part inside the plot. */
  readonly insideAreaSquareMeters: number;
  readonly insideMaxDepthMeters: number;
}

export interface PlotGround {
  /** Geodesic on the ellipsoid, holes taken off. */
  readonly areaSquareMeters: number;
  /** Geodesic, outline and holes. */
  readonly perimeterMeters: number;
  /** Null where there is no ground under the plot. */
  readonly terrain: null | {
    /** Share of the plot that has elevation data, 0 to 1. */
    readonly coveredShare: number;
    /** Rise over run, least-squares plane over the window. */
    readonly slopeWindowMeters: number;
    readonly medianSlope: number;
    readonly percentile90Slope: number;
    readonly greatestSlope: number;
    /** Square metres in each class of `slopeClassLimits`, one more than there are limits. */
    readonly slopeClassAreasSquareMeters: readonly number[];
    readonly lowestMeters: number;
    readonly highestMeters: number;
    readonly lowestAt: readonly [number, number];
    readonly highestAt: readonly [number, number];
    readonly fallMeters: number;
    /** True bearing that the plot's best-fit plane falls toward; null where it is level. */
    readonly fallsTowardDegrees: number | null;
    /** Rise over run of the best-fit plane. */
    readonly planeSlope: number;
  };
}

/** Apart from `PlotGround`, because it waits for the whole site's low spots. */
export interface PlotLowSpots {
  /** Listed ones only, that touch the plot; by volume, largest first. */
  readonly lowSpots: readonly PlotLowSpot[];
}

export interface BermLine {
  /** Geodesic along the line on the ellipsoid. */
  readonly lengthMeters: number;
  readonly lowestMeters: number | null;
  readonly highestMeters: number | null;
}

export interface StandGround {
  readonly elevationMeters: number | null;
  readonly longitude: number;
  readonly latitude: number;
}

/** A piece of a plot that cannot be planted. */
export interface PlantableTaking {
  readonly reason: TakingKind | 'too-steep';
  /** What takes it; null for steep ground. */
  readonly featureId: string | null;
  /** Less what stands above it in the list takes already. */
  readonly areaSquareMeters: number;
}

export interface Plantable {
  /** Of the plot, on the ellipsoid. */
  readonly areaSquareMeters: number;
  /** What is left: the plot's area less everything in the list, to the last digit. */
  readonly plantableSquareMeters: number;
  /** In the order taken off; ground under two of them stands in the first. */
  readonly taken: readonly PlantableTaking[];
  /** The same once what is to burn has burned. */
  readonly nextFallSquareMeters: number;
  readonly nextFallTaken: readonly PlantableTaking[];
  /** Points and lines in the plot that no size is drawn for: nothing was taken off for them. */
  readonly unknownSizeIds: readonly string[];
  /** Share of the ground left that has heights to judge its slope by; null where that is off. */
  readonly steepJudgedShare: number | null;
}

export interface SectionLine {
  /** Geodesic along the line on the ellipsoid. */
  readonly lengthMeters: number;
  /** Existing ground under the line; null where it has no height anywhere. */
  readonly surface: null | {
    readonly name: string;
    readonly surveyedOn: string | null;
    /** From the start along the line, rising; corners of the line among them. */
    readonly stationsMeters: readonly number[];
    /** At each station; null where there is no height. */
    readonly elevationsMeters: readonly (number | null)[];
    /** Stations of the line's own corners, by which a station is found on the map. */
    readonly cornerStationsMeters: readonly number[];
    /** Share of the stations with a height. */
    readonly coveredShare: number;
    /** Rises and falls of the stretches, each summed, so that survey noise does not count. */
    readonly climbMeters: number;
    readonly fallMeters: number;
    /** No height strays from its stretch by more than this: the survey's own error. */
    readonly stretchToleranceMeters: number;
    readonly stretches: readonly Stretch[];
    /** Of those at least 10 ft long, if any is; up or down. */
    readonly steepest: Stretch | null;
  };
}

/** Plain numbers of a shape; heights are null off the ground. */
export type ShapeMeasure =
  | { readonly shape: 'point'; readonly elevationMeters: number | null }
  | {
      readonly shape: 'line';
      /** Geodesic along the line. */
      readonly lengthMeters: number;
      readonly startElevationMeters: number | null;
      readonly endElevationMeters: number | null;
    }
  | {
      readonly shape: 'area';
      /** Geodesic, holes taken off. */
      readonly areaSquareMeters: number;
      /** Geodesic, outline and holes. */
      readonly perimeterMeters: number;
    };

/** Answers about the whole site, and answers about each feature of a kind. */
export interface SiteAnswers {
  readonly ground: Answer<SiteGround>;
  readonly lowSpots: Answer<SiteLowSpots>;
  readonly storm: Answer<SiteStorm>;
  readonly waysOut: Answer<WaysOut>;
  readonly notchFlows: Answer<NotchFlows>;
  readonly notchWork: Answer<NotchWork>;
  readonly culvertQuestions: Answer<CulvertQuestions>;
  readonly spotsSure: Answer<SpotsSure>;
  readonly flowLines: Answer<FlowLines>;
  readonly spotDetails: Answer<SpotDetails>;
  readonly debris: Answer<SiteDebris>;
  /** Null where the record cannot be read. */
  readonly wind: Answer<SiteWind | null>;
  readonly eveningPools: Answer<EveningPools>;
  readonly standWinds: Answer<StandWinds>;
  readonly standSeasons: Answer<StandSeasons>;
  /** While it is asked for. */
  readonly siting: Answer<Siting>;
  /** Of the stand that they are asked for. */
  readonly standLanes: Answer<StandLanes>;
  /** Null where the trees do not let it be said. */
  readonly clearingWork: Answer<ClearingWork | null>;
}
export interface FeatureAnswers {
  readonly plotGround: Answer<PlotGround>;
  readonly plotLowSpots: Answer<PlotLowSpots>;
  readonly plotStorm: Answer<PlotStorm>;
  readonly bermLine: Answer<BermLine>;
  /** Of timber blocks that do not stay standing; null where the tally cannot be worked with. */
  readonly timberDebris: Answer<TimberDebris | null>;
  /** Of timber blocks under a surface flown before clearing. */
  readonly canopyStems: Answer<CanopyStems | null>;
  readonly bermHolds: Answer<BermHolds>;
  readonly heapHolds: Answer<HeapHolds>;
  readonly bermGaps: Answer<BermGaps>;
  /** Of berms and heaps that are to burn. */
  readonly burning: Answer<Burning>;
  /** Of plots and clearings with debris in them. */
  readonly clearingWays: Answer<ClearingWays>;
  /** Of berms, heaps and roads that stand above the ground. */
  readonly damming: Answer<Damming>;
  /** Of berms. */
  readonly lettingGaps: Answer<LettingGaps>;
  readonly standGround: Answer<StandGround>;
  readonly standShots: Answer<StandShots>;
  /** Of stands near a plot, on the ground. */
  readonly seenByHeight: Answer<StandSight>;
  readonly plantable: Answer<Plantable>;
  readonly sectionLine: Answer<SectionLine>;
  /** Of the same lines. */
  readonly sectionWater: Answer<SectionWater>;
  /** Of every kind but those that say more above. */
  readonly shapeMeasure: Answer<ShapeMeasure>;
}
