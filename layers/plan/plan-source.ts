import type { GeoJSONSourceDiff } from 'maplibre-gl';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { DrawingChoices } from './feature-marks.ts';
import { markFeatures, type MarkFeature } from './mark-features.ts';

/** What the map needs of a source: `GeoJSONSource` has it. */
export interface UpdatableSource {
  updateData(diff: GeoJSONSourceDiff): unknown;
}

/** What is to be drawn of one feature: draws anew when any of it is another value. */
export interface Drawn extends DrawingChoices {
  readonly feature: PlanFeature;
}

/**
 * Keeps one GeoJSON source equal to a list of features by the smallest change, by id. Features are
 * plain values: the same object means the same picture.
 */
export class PlanSource {
  private shown = new Map<string, { drawn: Drawn; keys: readonly string[] }>();

  constructor(private readonly source: UpdatableSource) {}

  /** Returns whether anything was sent. */
  show(next: readonly Drawn[]): boolean {
    const add: MarkFeature[] = [];
    const remove: string[] = [];
    const kept = new Set<string>();
    for (const drawn of next) {
      const { id } = drawn.feature;
      kept.add(id);
      const before = this.shown.get(id);
      if (before && sameDrawing(before.drawn, drawn)) continue;
      const marks = markFeatures(drawn.feature, drawn);
      const keys = marks.map((mark) => mark.id);
      // A key that comes again is overwritten by `add`; only surplus ones are removed.
      if (before) remove.push(...before.keys.slice(keys.length));
      add.push(...marks);
      this.shown.set(id, { drawn, keys });
    }
    for (const [id, { keys }] of this.shown) {
      if (kept.has(id)) continue;
      remove.push(...keys);
      this.shown.delete(id);
    }
    if (add.length === 0 && remove.length === 0) return false;
    this.source.updateData({ remove, add });
    return true;
  }
}

function sameDrawing(a: Drawn, b: Drawn): boolean {
  return (
    a.feature === b.feature &&
    a.caption === b.caption &&
    a.units === b.units &&
    a.selected === b.selected
  );
}
