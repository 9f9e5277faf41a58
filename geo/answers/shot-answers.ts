import type { SitePick } from '../approach/siting.ts';
import type { Weapon } from '../plan/shot-rules.ts';
import type { PartHours } from '../wind/stand-season.ts';
import type { ShotStretch } from '../sight/shot-stretches.ts';

/** Which way a stand may shoot, and what it must keep away from: advice, never leave. */

export type SetbackFrom = 'dwelling' | 'building' | 'road' | 'line';

export interface StandSetback {
  readonly id: string;
  readonly from: SetbackFrom;
  readonly meters: number;
  readonly requiredMeters: number;
  /** Whole feet, or metres, as the plan's units are: as if nearer, as if shorter of what is asked. */
  readonly unitsAway: number;
  readonly unitsShort: number;
  /** True bearing away from it; null on top of it. */
  readonly awayDegrees: number | null;
  /** Where it is nearest. */
  readonly at: readonly [number, number];
}

/** Another stand in this one's arc and range, or this one in another's. */
export interface StandInLine {
  readonly otherId: string;
  readonly way: 'from-here' | 'to-here' | 'both';
  /** Whole yards, or metres: as if nearer. */
  readonly unitsAway: number;
  /** True, to the other one. */
  readonly bearingDegrees: number;
  readonly at: readonly [number, number];
}

export interface StandShots {
  readonly weapon: Weapon;
  /** False: what it is hunted with is not set, and the farthest-carrying is taken. */
  readonly weaponIsSet: boolean;
  readonly rangeMeters: number;
  /** True bearings; null without ground under the stand. */
  readonly stretches: readonly ShotStretch[] | null;
  /** Nearest of each sort, and every one that is short; nearest first. */
  readonly setbacks: readonly StandSetback[];
  readonly others: readonly StandInLine[];
  /** Whether a property line is drawn: without one nobody knows where the tract ends. */
  readonly knowsTract: boolean;
  /** Whether plots lie in range: then only shots onto them are judged. */
  readonly isOverPlots: boolean;
}

/** How much of the nearest plot a stand sees. */
export interface StandSight {
  readonly plotId: string;
  /** By the height of the floor, 4 to 20 ft, rising: never less of the plot from higher up. */
  readonly heights: readonly { readonly floorMeters: number; readonly seenShare: number }[];
  /** The lowest floor past which none up to the highest shows more than a twentieth more; null where height gains nothing. */
  readonly kneeMeters: number | null;
  /** Of the seat as it is set. */
  readonly ownFloorMeters: number;
  readonly ownShare: number;
  /** Of the plot, without heights. */
  readonly missingShare: number;
}

/** A place where a stand could go; its parts are 0 to 1, and never one number. */
export interface SitePlace {
  readonly at: readonly [number, number];
  /** True bearing of the plot's middle, whole degrees: a stand set there faces so. */
  readonly facingDegrees: number;
  /** Of 16 winds clockwise from north, those on which half of the legal hours or more work. */
  readonly worksOn: readonly number[];
  /** Legal hours of the record by verdict, as a stand set there has them. */
  readonly season: PartHours;
  /** Stands that are drawn and that it must not be sat at once with. */
  readonly inLine: readonly StandInLine[];
  readonly parts: SitePick['parts'];
  readonly betterThan: SitePick['betterThan'];
  readonly worseThan: SitePick['worseThan'];
  readonly weakest: SitePick['weakest'];
}

export interface PlotSites {
  readonly plotId: string;
  readonly weapon: Weapon;
  /** Those in line with no stand first, then by the product of their parts. */
  readonly places: readonly SitePlace[];
  /** A drawn stand that is as good as at the best place of all; null where none is. */
  readonly standThere: { readonly standId: string; readonly unitsAway: number } | null;
}

export interface Siting {
  readonly plots: readonly PlotSites[];
  /** False: no access point, so every way in counts alike. */
  readonly knowsLanes: boolean;
  /** Legal hours of the record that places were judged by. */
  readonly hours: number;
}
