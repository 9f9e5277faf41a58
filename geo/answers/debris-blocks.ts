import { debrisCells } from '../debris/debris-cells.ts';
import { pilingChoices } from '../debris/debris-choices.ts';
import { addDebris, type DebrisMass } from '../debris/debris-mass.ts';
import { debrisVolume, type DebrisVolume } from '../debris/debris-volume.ts';
import type { DebrisSource } from '../debris/nearest-first.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import type { Frame } from '../frame/crs-types.ts';
import { blockDebris, type BlockDebris } from './block-debris.ts';
import { scaledVolume, type DebrisScale } from './debris-scale.ts';
import type { SiteDefinition } from './definition.ts';
import { ringsInFrame } from './ground-inputs.ts';
import { debrisSettings } from './debris-settings.ts';

/** A block that is cleared, and whose trees are counted. */
export interface TalliedBlock extends BlockDebris {
  readonly debris: DebrisMass;
  readonly volume: DebrisVolume;
  /** Its debris as it lies, in equal parts over its ground, in the frame below. */
  readonly sources: readonly DebrisSource[];
}

export interface DebrisBlocks {
  readonly frame: Frame;
  readonly blocks: readonly TalliedBlock[];
  readonly untalliedIds: readonly string[];
  readonly mass: DebrisMass;
  readonly volume: DebrisVolume;
  readonly clearedSquareMeters: number;
}

/** Parts that the debris of one block is pushed in. */
const CELLS = 150;

/** Debris of every block that is cleared, wherever it goes: no edit of a berm makes it stale. */
export const debrisBlocks: SiteDefinition = {
  name: 'debrisBlocks',
  per: 'site',
  shown: false,
  keep: 2,
  reads: [...debrisSettings, 'answer:debrisScale', 'features:timber-block'],
  compute(inputs): { done: DebrisBlocks | null } {
    const { settings } = inputs;
    const all = [...inputs.features('timber-block')]
      .sort((a, b) => (a.id < b.id ? -1 : 1))
      .flatMap((block) => blockDebris(block as BlockDebris['block'], settings) ?? []);
    const first = all[0]?.block.geometry;
    if (first?.type !== 'Polygon') return { done: null };
    const [lng, lat] = first.coordinates[0]![0]!;
    const frame = zoneFrame(lng, lat);
    const piling = pilingChoices(settings);
    const { factor } = inputs.answer('debrisScale') as DebrisScale;
    const blocks = all.flatMap((one): TalliedBlock[] => {
      const { mass, areaSquareMeters } = one;
      if (!mass.ok) return [];
      const { kilograms, byGroup } = mass.value;
      const estimate = debrisVolume(kilograms, byGroup, piling, areaSquareMeters);
      const rings = ringsInFrame(one.block, frame);
      if (!estimate.ok || !rings) return [];
      const volume = scaledVolume(estimate.value, factor);
      const cubicMeters = volume.looseCubicMeters.likely;
      const sources = debrisCells(rings, cubicMeters, areaSquareMeters, CELLS);
      return [{ ...one, debris: mass.value, volume, sources }];
    });
    const mass = addDebris(blocks.map(({ debris }) => debris));
    const clearedSquareMeters = blocks.reduce((sum, one) => sum + one.areaSquareMeters, 0);
    const whole = debrisVolume(mass.kilograms, mass.byGroup, piling, clearedSquareMeters || null);
    if (!whole.ok) return { done: null };
    const volume = scaledVolume(whole.value, factor);
    const untalliedIds = all.flatMap(({ block, mass: one }) => (one.ok ? [] : [block.id]));
    return { done: { frame, blocks, untalliedIds, mass, volume, clearedSquareMeters } }; // prettier-ignore
  },
};
