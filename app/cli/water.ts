import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { listSpots } from '../../geo/answers/listed-low-spots.ts';
import { makeLowSpotSurface } from '../../geo/answers/low-spot-surface.ts';
import { pondOutline } from '../../geo/answers/pond-outline.ts';
import { pondTally } from '../../geo/answers/pond-tally.ts';
import { spotCatchments } from '../../geo/answers/spot-catchments.ts';
import { makeStormGround, type StormGroundInUse } from '../../geo/answers/storm-ground.ts';
import { writeGeoTiff } from '../../geo/formats/geotiff/write-geotiff.ts';
import type { GroundDraft } from '../../geo/formats/opening.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { hoursToDry } from '../../geo/water/infiltration.ts';
import { runoffMeters } from '../../geo/water/runoff.ts';
import { countSurface, stormWater } from '../../geo/water/storm.ts';
import { finish } from '../../geo/work.ts';
import { badInput } from './cli-problem.ts';
import { groundChoices, groundOptions, groundOptionsHelp, openOrRefuse, withFiles } from './ground-options.ts'; // prettier-ignore
import { fileProblem, printJson, readArguments, type Verb } from './verb.ts';
import {
  waterChoices,
  waterOptions,
  waterOptionsHelp,
  type WaterChoices,
} from './water-options.ts';

/** Low spots of a ground and what one storm leaves in them, by the same kernels as on the page. */
export const water: Verb = {
  help: `assart water DEM... --rain DEPTH [options]

Low spots of a ground as it is given, brim full, and what one storm leaves in them: runoff by one
curve number for the whole ground, let come to rest hollow by hollow. Totals count every hollow; the
list is for those over the limits below. Days to dry are for no more rain.

Options
${waterOptionsHelp}
${groundOptionsHelp}

Prints JSON in SI units. Screening, not a survey and not a permit: standing water can mean wetland;
have it looked at before any cut. Exit 0 done, 1 bad input, 2 wrong usage.`,
  async run(args) {
    const options = { ...groundOptions, ...waterOptions } as const;
    const { values, positionals } = readArguments('water', args, options, {
      least: 1,
      most: Infinity,
    });
    const choices = waterChoices(values);
    await withFiles(positionals, async (sources) => {
      const opening = await openOrRefuse(sources, groundChoices(values, 'water'));
      if (opening.kind === 'photo') {
        throw badInput({
          code: 'water-photo',
          what: 'This is a photo, not heights.',
          where: sources[0]!.name,
          wayOut: 'Name an elevation file.',
        });
      }
      const { result, write } = waterOf(opening.grid, opening.draft, choices);
      if (values.out !== undefined) await writeOut(values.out, write);
      printJson(result);
    });
  },
};

interface WhatIsWritten {
  /** Depth of standing water as a GeoTIFF; no data where the ground has none. */
  depth(): Uint8Array;
  readonly lowSpots: object;
}

function waterOf(grid: Grid, draft: GroundDraft, choices: WaterChoices) {
  const ground = { grid, frame: openFrame(grid.frame) };
  const surface = finish(makeLowSpotSurface(grid));
  const prepared = finish(makeStormGround(grid, surface));
  const listed = finish(
    listSpots(ground, surface, choices.minDepthMeters, choices.minAreaSquareMeters),
  );
  const { z, labels, tree, cellAreaSquareMeters: area } = prepared;
  const count = finish(countSurface(z, labels, new Uint8Array(z.length), tree.leafCount, 1));
  const storm = finish(stormWater(prepared, count, [choices.curveNumber], choices.rainMeters));
  const most = listed.at(-1)?.label ?? 0;
  const tally = pondTally(prepared, surface.labels, storm.levels, most);
  const catchments = spotCatchments(prepared, count, most);
  const standing = listed.map(({ id, label }) => {
    const hours = hoursToDry(
      tally.depths[label]!,
      choices.intakeMetersPerSecond,
      choices.evaporationMetersPerDay,
    );
    return {
      id,
      areaSquareMeters: tally.cells[label]! * area,
      volumeCubicMeters: tally.depthSums[label]! * area,
      maxDepthMeters: tally.depths[label]!,
      hoursToDry: Number.isFinite(hours) ? hours : null,
    };
  });
  const result = {
    cells: grid.data.length,
    cellSizeMeters: grid.cellWidth,
    used: choices,
    lowSpots: listed.map(({ label, ...spot }) => ({
      ...spot,
      catchmentSquareMeters: catchments[label]! * area,
    })),
    lowSpotsInAll: surface.spots.length,
    filledVolumeCubicMeters: surface.spots.reduce((sum, spot) => sum + spot.volumeCubicMeters, 0),
    storm: {
      rainMeters: choices.rainMeters,
      durationHours: choices.durationHours,
      rainCubicMeters: storm.rainCubicMeters,
      runoffMeters: runoffMeters(choices.rainMeters, choices.curveNumber),
      /** With the rain that falls on standing water. */
      runoffCubicMeters: storm.runoffCubicMeters,
      standingCubicMeters: storm.standingCubicMeters,
      leftSiteCubicMeters: storm.leftSiteCubicMeters,
      soakedCubicMeters: storm.soakedCubicMeters,
      standing,
    },
  };
  const features = listed.flatMap((spot, i) => {
    if (standing[i]!.areaSquareMeters === 0) return [];
    const outline = finish(pondOutline(ground, surface.labels, prepared, storm.levels, spot.label));
    const geometry = { type: 'MultiPolygon', coordinates: outline };
    return [{ type: 'Feature', geometry, properties: standing[i] }];
  });
  const write: WhatIsWritten = {
    depth: () => {
      const data = depthOf(prepared, storm.levels);
      const vertical = draft.vertical.datum;
      return finish(writeGeoTiff({ ...grid, data }, { vertical, surveyedOn: draft.surveyedOn }));
    },
    lowSpots: { type: 'FeatureCollection', features },
  };
  return { result, write };
}

function depthOf({ z, labels }: StormGroundInUse, levels: Float64Array): Float32Array {
  return z.map((height, i) =>
    height === height ? Math.max(0, levels[labels[i]!]! - height) : NaN,
  );
}

async function writeOut(folder: string, { depth, lowSpots }: WhatIsWritten): Promise<void> {
  try {
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, 'depth.tif'), depth());
    await writeFile(join(folder, 'low-spots.geojson'), `${JSON.stringify(lowSpots)}\n`);
  } catch (error) {
    throw fileProblem(error, folder) ?? error;
  }
}
