import { defaultConditions, type Conditions } from '../plan/conditions.ts';
import type { PlanFeature } from '../plan/feature.ts';
import type { Kind } from '../plan/kinds.ts';
import { defaultSettings, type Settings } from '../plan/settings.ts';
import type { Rasters } from './definition.ts';
import { fingerprint } from './fingerprint.ts';

/** What the answers read beside each other, as it is now, with a fingerprint of each part. */
export class CurrentInputs {
  rasters: Partial<Rasters> = {};
  settings: Settings = defaultSettings;
  conditions: Conditions = defaultConditions;
  readonly features = new Map<string, PlanFeature>();
  readonly #touched = new Map<string, number>();
  #turn = 0;

  /** Changed features; null removes one. Returns each that went or became of another kind. */
  putFeatures(features: Readonly<Record<string, PlanFeature | null>>): PlanFeature[] {
    const gone: PlanFeature[] = [];
    const turn = ++this.#turn;
    for (const [id, feature] of Object.entries(features)) {
      const before = this.features.get(id);
      if (before && feature && fingerprint(before) === fingerprint(feature)) continue;
      if (feature !== null) {
        this.features.set(id, feature);
        this.#touched.set(id, turn);
      } else {
        this.features.delete(id);
        this.#touched.delete(id);
      }
      if (before && before.kind !== feature?.kind) gone.push(before);
    }
    return gone;
  }

  ofKind(kind: Kind): PlanFeature[] {
    return [...this.features.values()].filter((feature) => feature.kind === kind);
  }

  /** The higher, the later the feature was changed; 0 for the site. */
  rank(feature: PlanFeature | null): number {
    return feature ? (this.#touched.get(feature.id) ?? 0) : 0;
  }

  isTouchedLast({ id }: PlanFeature): boolean {
    return this.#touched.get(id) === this.#turn;
  }

  /** Throws RangeError for a sort of input that there is not. */
  print(sort: string, name: string): string {
    switch (sort) {
      case 'raster': {
        // The same numbers laid elsewhere are another ground: the id names only the numbers.
        const record = this.rasters[name as keyof Rasters]?.record;
        return record ? `${record.id}@${fingerprint(record.place)}` : 'none';
      }
      case 'record':
        return fingerprint(this.rasters[name as keyof Rasters]?.record ?? null);
      case 'features':
        return this.ofKind(name as Kind)
          .map(fingerprint)
          .sort()
          .join(',');
      case 'setting':
        return fingerprint(this.settings[name as keyof Settings]);
      case 'condition':
        return fingerprint(this.conditions[name as keyof Conditions]);
      default:
        throw new RangeError(`no input is called ${sort}:${name}`);
    }
  }
}
