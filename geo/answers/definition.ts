import type { Conditions } from '../plan/conditions.ts';
import type { PlanFeature } from '../plan/feature.ts';
import type { Kind } from '../plan/kinds.ts';
import type { SettingKey, Settings } from '../plan/settings.ts';
import type { Frame } from '../frame/crs-types.ts';
import type { Grid } from '../raster/grid.ts';
import type { GroundRecord } from '../raster/ground-record.ts';
import type { Work } from '../work.ts';

/** How an answer is declared: what it reads, and how it is computed from just that. */

/** The rasters of a site, by the part they play. */
export interface Rasters {
  readonly ground: GroundInUse;
  /** A surface over it: tree tops before clearing, heaps after. */
  readonly surface: GroundInUse;
}
export interface GroundInUse {
  readonly record: GroundRecord;
  readonly grid: Grid;
  readonly frame: Frame;
}

/**
 * One thing that an answer reads. `answer:` waits until that answer is current. A change of
 * anything else leaves the answer alone.
 */
export type Read =
  | `raster:${keyof Rasters}`
  /** What is known of a raster besides its numbers: date, accuracy, name. */
  | `record:${keyof Rasters}`
  | `features:${Kind}`
  | `setting:${SettingKey}`
  | `condition:${keyof Conditions}`
  | `answer:${string}`;

/** What `compute` is handed. It may look only at what its definition declares. */
export interface Inputs {
  raster<N extends keyof Rasters>(name: N): Rasters[N] | null;
  features(kind: Kind): readonly PlanFeature[];
  readonly settings: Settings;
  readonly conditions: Conditions;
  /** Value of a site answer declared in `reads`; null where that answer has none. */
  answer(name: string): unknown;
}

interface Common {
  readonly name: string;
  readonly reads: readonly Read[];
  /** False for products that other answers need but nobody is shown. Default true. */
  readonly shown?: boolean;
  /** Begun before what was touched last: takes no time, and what is shown waits for it. */
  readonly first?: boolean;
  /** Waits with the site's answers unless its own feature was touched last: long, and often stale by others. */
  readonly unhurried?: boolean;
  /** Begun after all others: takes long, and nothing that is drawn on the map waits for it. */
  readonly last?: boolean;
  /** Results kept for inputs seen before (undo, a slider moved back). Default 8. */
  readonly keep?: number;
  /**
   * What stands for a result in the fingerprints of those who read it, in place of all that it read
   * itself: two results that are seen as the same make nothing stale. For cheap answers only.
   */
  seenAs?(value: unknown): string;
}

/** An answer about the whole site. */
export interface SiteDefinition extends Common {
  readonly per: 'site';
  compute(inputs: Inputs): Work<unknown> | { readonly done: unknown };
}

/** An answer about each feature of one kind or several; it reads it besides what it declares. */
export interface FeatureDefinition extends Common {
  readonly per: Kind | readonly Kind[];
  compute(inputs: Inputs, feature: PlanFeature): Work<unknown> | { readonly done: unknown };
}

export type Definition = SiteDefinition | FeatureDefinition;

/** The kinds of features that a definition answers for; none for the whole site. */
export function kindsOf({ per }: Definition): readonly Kind[] {
  if (per === 'site') return [];
  return typeof per === 'string' ? [per] : per;
}
