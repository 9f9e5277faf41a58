import type { Position } from '../../plan/feature.ts';
import { findOutlineFault, type OutlineFault } from '../../plan/outline-faults.ts';
import type { Work } from '../../work.ts';
import { nameFromAttributes } from './feature-name.ts';
import { splitPersonal, splitPersonalLines } from './personal-columns.ts';
import { plainName, plainText } from './plain-text.ts';
import type { PlacedFeature, PlacedLayer } from './place-layer.ts';
import type { RawLayer } from './raw-feature.ts';
import { suggestKind } from './suggest-kind.ts';
import type { VectorFeature } from './vector-types.ts';

export interface BuiltLayer {
  readonly features: readonly VectorFeature[];
  /** Personal columns and in how many features they held something. */
  readonly personal: ReadonlyMap<string, number>;
  /** Outlines that cross or touch themselves, and those too long to be looked at. */
  readonly faulty: number;
  readonly unchecked: number;
}

/** Pairs of edges that may be looked at for faults, over all files: about a second. */
export interface FaultBudget {
  pairs: number;
}

const FEATURES_BETWEEN = 100;

/**
 * Makes features for the preview of a placed layer: names and descriptions as plain text, personal
 * columns out unless they are kept, outline faults noted, a kind suggested.
 */
export function* buildFeatures(
  layer: RawLayer,
  placed: PlacedLayer,
  firstIndex: number,
  keepPersonal: boolean,
  budget: FaultBudget,
): Work<BuiltLayer> {
  const features: VectorFeature[] = [];
  const personal = new Map<string, number>();
  let faulty = 0;
  let unchecked = 0;
  for (let i = 0; i < placed.features.length; i++) {
    const feature = placed.features[i];
    const about = describe(layer, feature, keepPersonal, personal);
    for (let p = 0; p < feature.parts.length; p++) {
      const { geometry, pointData } = feature.parts[p];
      const checked = geometry.type === 'Polygon' ? faultOf(geometry.coordinates, budget) : null;
      if (checked === 'unchecked') unchecked++;
      else if (checked !== null) faulty++;
      const type = geometry.type;
      features.push({
        ...about,
        index: firstIndex + features.length,
        geometry,
        pointData,
        part: feature.parts.length > 1 ? { index: p, of: feature.parts.length } : null,
        fault: checked === 'unchecked' ? null : checked,
        suggested: suggestKind({
          geometry: type,
          name: about.name,
          layer: about.layer,
          sort: about.sort,
          columns: feature.raw.attributes.map(([column]) => column),
          ownKind: String(about.attributes.kind ?? ''),
          isLoop: type === 'LineString' && isLoop(geometry.coordinates),
        }),
      });
      if (features.length % FEATURES_BETWEEN === 0) {
        yield { share: i / placed.features.length, doing: `Looking over ${layer.file}` };
      }
    }
  }
  return { features, personal, faulty, unchecked };
}

function describe(
  layer: RawLayer,
  { raw }: PlacedFeature,
  keepPersonal: boolean,
  personal: Map<string, number>,
): Pick<VectorFeature, 'name' | 'description' | 'attributes' | 'layer' | 'file' | 'sort'> {
  const split = splitPersonal(raw.attributes);
  const text = plainText(raw.description.slice(0, 20_000));
  const lines = splitPersonalLines(text);
  for (const column of [...split.dropped, ...lines.dropped]) {
    personal.set(column, (personal.get(column) ?? 0) + 1);
  }
  const attributes = keepPersonal ? raw.attributes : split.kept;
  return {
    name: plainName(raw.name) || nameFromAttributes(attributes),
    description: (keepPersonal ? text : lines.kept).slice(0, 2000),
    attributes: firstOfEach(attributes),
    layer: plainName(raw.layer),
    file: layer.file,
    sort: raw.sort,
  };
}

function firstOfEach(
  attributes: readonly (readonly [string, string | number])[],
): Record<string, string | number> {
  const seen = new Set<string>();
  // fromEntries defines its keys one by one, so no name reaches a prototype.
  return Object.fromEntries(attributes.filter(([column]) => !seen.has(column) && seen.add(column)));
}

function faultOf(
  rings: readonly (readonly Position[])[],
  budget: FaultBudget,
): OutlineFault | null | 'unchecked' {
  const corners = rings.reduce((sum, ring) => sum + ring.length, 0);
  const pairs = (corners * corners) / 2;
  if (pairs > budget.pairs) return 'unchecked';
  budget.pairs -= pairs;
  return findOutlineFault(rings);
}

/** Ends within 30 m or a twelfth of the length of each other, on a line that leads somewhere. */
function isLoop(line: readonly Position[]): boolean {
  const metersPerDegree = 111_000;
  const east = Math.cos((line[0][1] * Math.PI) / 180);
  const away = (a: Position, b: Position) =>
    metersPerDegree * Math.hypot((a[0] - b[0]) * east, a[1] - b[1]);
  let length = 0;
  for (let i = 1; i < line.length; i++) length += away(line[i - 1], line[i]);
  const gap = away(line[0], line[line.length - 1]);
  return line.length > 3 && length > 80 && gap < Math.max(30, length / 12) && gap < length / 4;
}
