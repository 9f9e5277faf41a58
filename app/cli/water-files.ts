import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { FlowLineShape } from '../../geo/answers/flow-answers.ts';
import type { LngLatPolygon } from '../../geo/answers/answers.ts';
import type { StormGroundInUse } from '../../geo/answers/storm-ground.ts';
import { writeGeoTiff } from '../../geo/formats/geotiff/write-geotiff.ts';
import type { GroundDraft } from '../../geo/formats/opening.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { finish } from '../../geo/work.ts';
import { fileProblem } from './verb.ts';

export interface WaterFiles {
  /** Depth of standing water; no data where the ground has none. */
  readonly depth: {
    readonly grid: Grid;
    readonly draft: Pick<GroundDraft, 'vertical' | 'surveyedOn'>;
    readonly prepared: StormGroundInUse;
    readonly levels: Float64Array;
  };
  readonly pools: readonly {
    readonly outline: readonly LngLatPolygon[];
    readonly properties: object;
  }[];
  readonly flowLines: readonly FlowLineShape[];
}

/** Writes depth.tif, low-spots.geojson and flow-lines.geojson into a folder. */
export async function writeWater(folder: string, files: WaterFiles): Promise<void> {
  const { pools, flowLines } = files;
  const lowSpots = pools.map(({ outline, properties }) =>
    feature({ type: 'MultiPolygon', coordinates: outline }, properties),
  );
  const lines = flowLines.map(({ line, catchmentSquareMeters, into }, id) =>
    feature(
      { type: 'LineString', coordinates: line },
      // At its lower end, and through each corner.
      { id, into, drainsSquareMeters: catchmentSquareMeters.at(-1), catchmentSquareMeters },
    ),
  );
  try {
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, 'depth.tif'), depthOf(files.depth));
    await writeFile(join(folder, 'low-spots.geojson'), collection(lowSpots));
    await writeFile(join(folder, 'flow-lines.geojson'), collection(lines));
  } catch (error) {
    throw fileProblem(error, folder) ?? error;
  }
}

function feature(geometry: object, properties: object): object {
  return { type: 'Feature', geometry, properties };
}

function collection(features: readonly object[]): string {
  return `${JSON.stringify({ type: 'FeatureCollection', features })}\n`;
}

function depthOf({ grid, draft, prepared, levels }: WaterFiles['depth']): Uint8Array {
  const { z, labels } = prepared;
  const data = z.map((height, i) =>
    height === height ? Math.max(0, levels[labels[i]!]! - height) : NaN,
  );
  const said = { vertical: draft.vertical.datum, surveyedOn: draft.surveyedOn };
  return finish(writeGeoTiff({ ...grid, data }, said));
}
