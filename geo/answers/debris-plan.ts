import { debrisCells } from '../debris/debris-cells.ts';
import { pilingChoices } from '../debris/debris-choices.ts';
import { addDebris, type DebrisMass } from '../debris/debris-mass.ts';
import { debrisVolume, type DebrisVolume } from '../debris/debris-volume.ts';
import { nearestFirst, type DebrisSource } from '../debris/nearest-first.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import type { Frame } from '../frame/crs-types.ts';
import type { BlockDebris } from './block-debris.ts';
import { blockDebris } from './block-debris.ts';
import { debrisSinks, type PlanSink } from './debris-sinks.ts';
import type { SiteDefinition } from './definition.ts';
import { ringsInFrame } from './ground-inputs.ts';
import { debrisSettings } from './timber-debris.ts';

/** What the answers about the debris of a whole job share. */

export interface TalliedBlock extends BlockDebris {
  readonly debris: DebrisMass;
  readonly volume: DebrisVolume;
  /** Its debris as it lies, in equal parts over its ground. */
  readonly sources: readonly DebrisSource[];
}

export interface DebrisPlan {
  readonly frame: Frame;
  readonly blocks: readonly TalliedBlock[];
  readonly untalliedIds: readonly string[];
  readonly mass: DebrisMass;
  readonly volume: DebrisVolume;
  readonly clearedSquareMeters: number;
  readonly sinks: readonly PlanSink[];
  /** What each sink gets, shortest push first, no more than it holds. */
  readonly placed: Float64Array;
  /** Out of reach of all that has room. */
  readonly leftOverCubicMeters: number;
  /** What each sink would get if berms held anything. */
  readonly wanted: Float64Array;
}

/** Parts that the debris of one block is pushed in. */
const CELLS = 150;

/** Debris of every block that is cleared, and which of it goes to which berm or heap. */
export const debrisPlan: SiteDefinition = {
  name: 'debrisPlan',
  per: 'site',
  shown: false,
  keep: 2,
  reads: [
    ...debrisSettings,
    'setting:pushReachMeters',
    'features:timber-block',
    'features:berm',
    'features:heap',
  ],
  compute(inputs): { done: DebrisPlan | null } {
    const { settings } = inputs;
    const all = [...inputs.features('timber-block')]
      .sort((a, b) => (a.id < b.id ? -1 : 1))
      .flatMap((block) => blockDebris(block as BlockDebris['block'], settings) ?? []);
    const first = all[0]?.block.geometry;
    if (first?.type !== 'Polygon') return { done: null };
    const [lng, lat] = first.coordinates[0]![0]!;
    const frame = zoneFrame(lng, lat);
    const piling = pilingChoices(settings);
    const blocks = all.flatMap((one): TalliedBlock[] => {
      const { mass, areaSquareMeters } = one;
      if (!mass.ok) return [];
      const { kilograms, byGroup } = mass.value;
      const volume = debrisVolume(kilograms, byGroup, piling, areaSquareMeters);
      const rings = ringsInFrame(one.block, frame);
      if (!volume.ok || !rings) return [];
      const cubicMeters = volume.value.looseCubicMeters.likely;
      const sources = debrisCells(rings, cubicMeters, areaSquareMeters, CELLS);
      return [{ ...one, debris: mass.value, volume: volume.value, sources }];
    });
    const mass = addDebris(blocks.map(({ debris }) => debris));
    const clearedSquareMeters = blocks.reduce((sum, one) => sum + one.areaSquareMeters, 0);
    const volume = debrisVolume(mass.kilograms, mass.byGroup, piling, clearedSquareMeters || null);
    if (!volume.ok) return { done: null };
    const sinks = debrisSinks(inputs, frame);
    const sources = blocks.flatMap((block) => block.sources);
    const reach = settings.pushReachMeters;
    const { placed, left } = nearestFirst(sources, sinks, reach);
    const endless = sinks.map((sink) =>
      sink.feature.kind === 'berm' ? { ...sink, cubicMeters: Infinity } : sink,
    );
    return {
      done: {
        frame,
        blocks,
        untalliedIds: all.flatMap(({ block, mass: one }) => (one.ok ? [] : [block.id])),
        mass,
        volume: volume.value,
        clearedSquareMeters,
        sinks,
        placed,
        leftOverCubicMeters: left.reduce((sum, one) => sum + one, 0),
        wanted: nearestFirst(sources, endless, reach).placed,
      },
    };
  },
};
