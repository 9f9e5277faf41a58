import { open } from 'node:fs/promises';
import { basename, extname } from 'node:path';
import type { GroundDraft } from '../../geo/formats/opening.ts';
import { writeGeoTiff } from '../../geo/formats/geotiff/write-geotiff.ts';
import { prjText } from '../../geo/formats/prj-text.ts';
import { asciiGridPieces, xyzPieces } from '../../geo/formats/write-text-grid.ts';
import { looksLikeVectors } from '../../geo/formats/vector/sniff-vector.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { finish } from '../../geo/work.ts';
import { badInput, wrongUsage } from './cli-problem.ts';
import { groundFacts } from './ground-facts.ts';
import {
  groundChoices,
  groundOptions,
  groundOptionsHelp,
  openOrRefuse,
  withFiles,
} from './ground-options.ts';
import {
  drawingBytes,
  drawingEndings,
  drawingFacts,
  openDrawing,
  vectorOptions,
  vectorOptionsHelp,
  vectorWriteHelp,
} from './vector-files.ts';
import { fileProblem, printJson, readArguments, type Verb } from './verb.ts';

/** One ground format into another, or one format of drawing into another. */
export const convert: Verb = {
  help: `assart convert IN... OUT [options]

Writes a ground in another format, told by the ending of OUT: .tif or .tiff (GeoTIFF), .asc (ESRI
ASCII grid), .xyz, .txt or .csv (x y z of every cell with a height). Several INs are tiles of one
survey. Heights come out in metres, coordinates in metres of the file's own projection; text formats
get a .prj beside them that says so.

Writes a drawing (GeoJSON, KML, KMZ, GPX, shapefile loose or zipped) in another format: .geojson or
.json, .kml, .kmz, .gpx, or .zip (shapefiles, one a geometry type), in longitude and latitude.

Options
${groundOptionsHelp}
${vectorOptionsHelp}
${vectorWriteHelp}

Prints what was written, as JSON in SI units. Exit 0 done, 1 bad input, 2 wrong usage.`,
  async run(args) {
    const { values, positionals } = readArguments(
      'convert',
      args,
      { ...groundOptions, ...vectorOptions },
      { least: 2, most: Infinity },
    );
    const choices = groundChoices(values, 'convert');
    const out = positionals.at(-1)!;
    const ending = extname(out).toLowerCase();
    const write = WRITERS[ending];
    const isDrawing = drawingEndings.includes(ending);
    if (!write && !isDrawing) {
      throw wrongUsage(
        `"${basename(out)}" does not end in .tif, .asc, .xyz, .txt or .csv, nor in ${drawingEndings.join(', ')}.`,
        'convert',
      );
    }
    await withFiles(positionals.slice(0, -1), async (sources) => {
      if ((await looksLikeVectors(sources)) !== isDrawing)
        throw otherSort(sources[0]!.name, isDrawing);
      if (!write) {
        const drawing = await openDrawing(sources, values, choices.epsg, 'convert');
        await writePieces(out, [drawingBytes(out, basename(out, extname(out)), drawing, values)]);
        printJson({ written: [out], drawing: drawingFacts(drawing) });
        return;
      }
      const opening = await openOrRefuse(sources, choices);
      if (opening.kind === 'photo') {
        throw badInput({
          code: 'convert-photo',
          what: 'This is a photo, not heights.',
          where: sources[0]!.name,
          wayOut: 'Name an elevation file.',
        });
      }
      const { grid, draft } = opening;
      const written = await write(out, grid, draft);
      printJson({ written, ground: groundFacts(grid, draft) });
    });
  },
};

function otherSort(where: string, isDrawing: boolean) {
  return badInput({
    code: 'convert-sort',
    what: isDrawing ? 'This is no drawing.' : 'This is a drawing, not heights.',
    where,
    wayOut: isDrawing
      ? 'Name a GeoJSON, KML, GPX or shapefile, or another ending for what is written.'
      : `Name an elevation file, or write to one of ${drawingEndings.join(', ')}.`,
  });
}

type Writer = (path: string, grid: Grid, draft: GroundDraft) => Promise<string[]>;

const writeTiff: Writer = async (path, grid, draft) => {
  const choices = { vertical: draft.vertical.datum, surveyedOn: draft.surveyedOn };
  await writePieces(path, [finish(writeGeoTiff(grid, choices))]);
  return [path];
};

const textWriter =
  (pieces: (grid: Grid) => Iterable<Uint8Array>): Writer =>
  async (path, grid, draft) => {
    const prj = `${path.slice(0, -extname(path).length)}.prj`;
    await writePieces(path, pieces(grid));
    await writePieces(prj, [new TextEncoder().encode(prjText(grid.frame, draft.vertical))]);
    return [path, prj];
  };

const WRITERS: Readonly<Record<string, Writer>> = {
  '.tif': writeTiff,
  '.tiff': writeTiff,
  '.asc': textWriter(asciiGridPieces),
  '.xyz': textWriter(xyzPieces),
  '.txt': textWriter(xyzPieces),
  '.csv': textWriter((grid) => xyzPieces(grid, ',')),
};

async function writePieces(path: string, pieces: Iterable<Uint8Array>): Promise<void> {
  try {
    const file = await open(path, 'w');
    try {
      for (const piece of pieces) await file.writeFile(piece);
    } finally {
      await file.close();
    }
  } catch (error) {
    throw fileProblem(error, path) ?? error;
  }
}
