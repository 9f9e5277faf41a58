import type { GroundDraft } from '../../geo/formats/opening.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { Grid } from '../../geo/raster/grid.ts';

/** A ground in JSON: SI, units in the names, no cells. */
export function groundFacts(grid: Grid, draft: GroundDraft) {
  const { width, height, west, north, cellWidth, cellHeight, data } = grid;
  let lowest = Infinity;
  let highest = -Infinity;
  let withData = 0;
  let sum = 0;
  for (let i = 0; i < data.length; i++) {
    const z = data[i]!;
    if (z !== z) continue;
    withData++;
    sum += z;
    if (z < lowest) lowest = z;
    if (z > highest) highest = z;
  }
  const east = west + width * cellWidth;
  const south = north - height * cellHeight;
  const frame = openFrame(grid.frame);
  const [lng, lat] = frame.toLngLat((west + east) / 2, (south + north) / 2);
  return {
    kind: 'ground',
    name: draft.name,
    sourceFiles: draft.sourceFiles,
    sourceCrs: draft.sourceCrsName,
    sourceCellMeters: draft.sourceCellMeters,
    vertical: draft.vertical,
    surveyedOn: draft.surveyedOn,
    columns: width,
    rows: height,
    cells: data.length,
    cellsWithData: withData,
    cellWidthMeters: cellWidth,
    cellHeightMeters: cellHeight,
    cellGroundAreaSquareMeters: grid.cellGroundAreaSquareMeters,
    groundAreaSquareMeters: withData * grid.cellGroundAreaSquareMeters,
    convergenceDegrees: grid.convergenceDegrees,
    lowestMeters: lowest,
    highestMeters: highest,
    meanMeters: sum / withData,
    frame: { epsg: grid.frame.epsg, name: grid.frame.name, datum: grid.frame.datum },
    boundsMeters: { west, south, east, north },
    centerLngLatDegrees: [lng, lat],
    notes: draft.notes,
  };
}
