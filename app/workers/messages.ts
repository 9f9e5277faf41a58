import type { OpenedWind, WindChoices } from '../../geo/formats/wind/wind-opening.ts';
import type { PlaceCatchment } from '../../geo/answers/place-catchment.ts';
import type { FeatureAnswers, SiteAnswers } from '../../geo/answers/answers.ts';
import type { Asked, GroundChoices } from '../../geo/formats/opening.ts';
import type { SortedFiles } from '../../geo/formats/sort-files.ts';
import type { BringPick, BroughtIn, WalkChoices } from '../../geo/formats/vector/bring-in.ts';
import type { DrawingLook } from '../../geo/formats/vector/drawing-look.ts';
import type { AskedVectors, VectorChoices } from '../../geo/formats/vector/vector-types.ts';
import type { Kind } from '../../geo/plan/kinds.ts';
import type { PlanFeature, PlanGeometry, Position } from '../../geo/plan/feature.ts';
import type { RawPlan } from '../../geo/plan/raw-plan.ts';
import type { Conditions } from '../../geo/plan/conditions.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import type { PhotoRecord } from '../../geo/raster/photo-record.ts';
import type { Problem, Result } from '../../geo/result.ts';
import type { ContourLabel, LabelChunk } from '../../layers/contours/contour-labels.ts';
import type { TileKind } from '../../layers/tiles/tile-kind.ts';
import type { Construction, DuplicateOrder, Made, mend } from './construct.ts';

/**
 * The worker door's whole vocabulary: request name -> [what goes in, what comes back].
 * One worker owns the ground, its surfaces, the tiles drawn from it and the answers.
 */

// Plain types of opening live in `geo/`, so that the command line and the worker speak of the same.
export type { GroundChoices, Overview, PixelWindow } from '../../geo/formats/opening.ts';

export type GroundOpening =
  | { readonly kind: 'opened'; readonly ground: GroundRecord }
  | { readonly kind: 'photo'; readonly photo: PhotoRecord }
  | Asked
  | { readonly kind: 'refused'; readonly problem: Problem };

export type ProjectOpening =
  | {
      readonly kind: 'opened';
      readonly plan: RawPlan;
      /** Grounds and photos that the plan names and that could not be had. */
      readonly missing: readonly Problem[];
      readonly notes: readonly string[];
    }
  | { readonly kind: 'refused'; readonly problem: Problem };

export type ProjectPacked =
  | { readonly kind: 'packed'; readonly file: Blob; readonly missing: readonly Problem[] }
  | { readonly kind: 'refused'; readonly problem: Problem };

export type DrawingOpening =
  | { readonly kind: 'opened'; readonly look: DrawingLook }
  | AskedVectors
  | { readonly kind: 'refused'; readonly problem: Problem };

/** A walked track as it comes in. */
export interface CleanedLook {
  readonly geometry: PlanGeometry;
  readonly areaSquareMeters: number | null;
  readonly lengthMeters: number;
  /** What was removed and how good it is, in sentences. */
  readonly said: readonly string[];
}

export type DrawingFormat = 'geojson' | 'kml' | 'gpx' | 'shapefile';

export interface DrawingOrder {
  readonly features: readonly PlanFeature[];
  readonly format: DrawingFormat;
  readonly title: string;
  /** GPX: short names in plain letters, lines as routes of few points. */
  readonly forOldReceivers: boolean;
}

export interface Probe {
  readonly elevationMeters: number | null;
  readonly slope: number | null;
  /** What drains through there; null until that is known. */
  readonly catchmentSquareMeters: number | null;
}

/** A station's record as the plan keeps it. */
export type KeptStation = Settings['windStations'][number];
export type WindOpening =
  | Exclude<OpenedWind, { kind: 'opened' }>
  | {
      readonly kind: 'opened';
      readonly stations: readonly KeptStation[];
      readonly notes: readonly string[];
    };

export interface Requests {
  /** Files are read by slice; nothing is kept unless it opens wholly. */
  openFiles: [
    {
      files: readonly File[];
      choices: GroundChoices;
      /** Answers begin at once, before the page has said that the plan takes this ground. */
      useAtOnce?: boolean;
    },
    GroundOpening,
  ];
  /** What each file goes to, by its place in the list. */
  sortFiles: [{ files: readonly File[] }, SortedFiles];
  /** A drawing is read and kept in the worker until another is, or it is left. */
  openDrawings: [{ files: readonly File[]; choices: VectorChoices }, DrawingOpening];
  /** Names of the features of one layer of it, by place, out of one of its columns. */
  namesFrom: [
    { readonly file: string; readonly layer: string; readonly column: string },
    Readonly<Record<number, string>>,
  ];
  /** A track of it as it comes in; null for what is no line. */
  cleanTrack: [
    { readonly index: number; readonly kind: Kind; readonly clean: WalkChoices },
    CleanedLook | null,
  ];
  bringIn: [{ picks: readonly BringPick[] }, BroughtIn];
  leaveDrawings: [null, null];
  writeDrawings: [DrawingOrder, Blob];
  openWind: [{ file: File; choices: WindChoices }, WindOpening];
  openAddress: [{ url: string; choices: GroundChoices }, GroundOpening];
  /** A project file; its rasters are kept in this browser. */
  unpackProject: [{ file: File }, ProjectOpening];
  packProject: [{ plan: RawPlan }, ProjectPacked];
  /** Another plan comes: every answer is said anew, even where it is the same. */
  forgetAnswers: [null, null];
  /** Takes a stored ground or photo into use by content hash; null puts it away. */
  useGround: [{ record: GroundRecord | null }, { problem: Problem | null }];
  useSurface: [{ record: GroundRecord | null }, { problem: Problem | null }];
  usePhoto: [{ record: PhotoRecord | null }, { problem: Problem | null }];
  /** The whole plan, at start and after undo. */
  setPlan: [{ features: readonly PlanFeature[]; settings: Settings; conditions: Conditions }, null];
  /** Changed features; null removes. Drafts come this way too while a gesture lasts. */
  putFeatures: [{ features: Readonly<Record<string, PlanFeature | null>> }, null];
  /** Leaves the slow answers undone, or goes on with them where they stopped. */
  stopAnswers: [{ stop: boolean }, null];
  /** Sound outlines that cover what a self-crossing one covers, largest first. */
  repairOutline: [{ rings: readonly (readonly Position[])[] }, ReturnType<typeof mend>];
  /** Makes new shapes of drawn ones; a problem where they do not allow it. Nothing is kept. */
  construct: [
    { construction: Construction; geometries: readonly PlanGeometry[] },
    Result<readonly Made[]>,
  ];
  duplicate: [DuplicateOrder, PlanFeature];
  /** Coordinate systems whose name or code holds the text, at most a dozen. */
  findCrs: [{ text: string }, readonly { readonly epsg: number; readonly name: string }[]];
  /** Longitude and latitude of a pair in a projected system, in that system's own unit. */
  placeIn: [{ epsg: number; x: number; y: number }, Result<Position>];
  probe: [{ lng: number; lat: number }, Probe];
  /** What drains to the place in reach where most does; null where that is not known. */
  catchmentAt: [
    { readonly lng: number; readonly lat: number; readonly reachMeters: number },
    PlaceCatchment | null,
  ];
  /** Elevations to write along the contours of one square of the map; null where it was given up. */
  contourLabels: [LabelChunk, readonly ContourLabel[] | null];
  tile: [{ kind: TileKind; z: number; x: number; y: number; size: number }, ImageBitmap | null];
}

export type RequestName = keyof Requests;

/** What the worker says unasked. */
export type WorkerEvent =
  | {
      readonly event: 'progress';
      readonly job: number;
      readonly share: number;
      readonly doing: string;
    }
  | {
      readonly event: 'site-answer';
      readonly name: keyof SiteAnswers;
      readonly answer: SiteAnswers[keyof SiteAnswers] | null;
    }
  | {
      readonly event: 'feature-answer';
      readonly name: keyof FeatureAnswers;
      readonly id: string;
      readonly answer: FeatureAnswers[keyof FeatureAnswers] | null;
    }
  /** The answer `key` is being worked out (`answerKey`); `share` 1 means all current. */
  | {
      readonly event: 'working';
      readonly share: number;
      readonly doing: string;
      readonly key: string;
    }
  /** Work was stopped: keys (`answerKey`) of the answers left as they were; null: it goes on. */
  | { readonly event: 'left'; readonly keys: readonly string[] | null }
  | { readonly event: 'failed'; readonly problem: Problem }
  /** Tiles drawn before this are out of date. */
  | {
      readonly event: 'tiles-changed';
      readonly kinds: readonly TileKind[];
      readonly version: string;
    };
