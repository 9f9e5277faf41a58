import type { SiteDefinition } from './definition.ts';
import { fingerprint } from './fingerprint.ts';
import { eachCellIn, type SurfaceClasses } from './surface-classes.ts';

/** A plot that the soil areas do not wholly cover. */
export interface PlotOfUnknownSoil {
  readonly id: string;
  readonly name: string;
  readonly knownShare: number;
}

/** Plots that the soil areas leave wholly or partly out, where there are any; by id. */
export const plotsOfUnknownSoil: SiteDefinition = {
  name: 'plotsOfUnknownSoil',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['raster:ground', 'answer:surfaceClasses', 'features:plot'],
  compute(inputs): { done: readonly PlotOfUnknownSoil[] } {
    const ground = inputs.raster('ground');
    const soils = inputs.answer('surfaceClasses') as SurfaceClasses | null;
    if (!ground || !soils || soils.soilKnownShare === 0) return { done: [] };
    const plots = inputs.features('plot').map((plot) => {
      let cells = 0;
      let known = 0;
      eachCellIn(ground, plot, (cell) => {
        if (Number.isNaN(ground.grid.data[cell]!)) return;
        cells++;
        if (soils.classOf[cell]! > 1) known++;
      });
      return { id: plot.id, name: plot.name, knownShare: cells === 0 ? 1 : known / cells };
    });
    return {
      done: plots
        .filter(({ knownShare }) => knownShare < 0.995)
        .toSorted((a, b) => (a.id < b.id ? -1 : 1)),
    };
  },
  seenAs: (value) => fingerprint(value),
};
