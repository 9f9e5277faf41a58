import { groundFacts } from './ground-facts.ts';
import {
  groundChoices,
  groundOptions,
  groundOptionsHelp,
  openOrRefuse,
  withFiles,
} from './ground-options.ts';
import { looksLikeVectors } from '../../geo/formats/vector/sniff-vector.ts';
import { openProject } from './open-project.ts';
import { photoFacts } from './photo-facts.ts';
import { projectFacts } from './project-facts.ts';
import { drawingFacts, openDrawing, vectorOptions, vectorOptionsHelp } from './vector-files.ts';
import { printJson, readArguments, type Verb } from './verb.ts';

/** What a file holds, as the page would read it. */
export const inspect: Verb = {
  help: `assart inspect FILE... [options]

Prints what a ground, a photo, a drawing (GeoJSON, KML, KMZ, GPX, shapefile loose or zipped) or a
project (its zip, or the folder it was unzipped into) holds, as the page would read it: place, size,
heights, units, date, features, and what was done on the way in. Several grounds are tiles of one survey; sidecars (.prj, world file, .dbf) are named along with
them.

Options
${groundOptionsHelp}
${vectorOptionsHelp}

Prints JSON in SI units. Exit 0 done, 1 bad input, 2 wrong usage.`,
  async run(args) {
    const { 'device-names': _, routes: __, ...reading } = vectorOptions;
    const options = { ...groundOptions, ...reading };
    const { values, positionals } = readArguments('inspect', args, options, {
      least: 1,
      most: Infinity,
    });
    const choices = groundChoices(values, 'inspect');
    const project = positionals.length === 1 ? await openProject(positionals[0]!) : null;
    if (project) {
      printJson(projectFacts(project));
      return project.close();
    }
    await withFiles(positionals, async (sources) => {
      if (await looksLikeVectors(sources)) {
        printJson(drawingFacts(await openDrawing(sources, values, choices.epsg, 'inspect')));
        return;
      }
      const opening = await openOrRefuse(sources, choices);
      if (opening.kind === 'photo') printJson(photoFacts(opening.photo));
      else printJson(groundFacts(opening.grid, opening.draft));
    });
  },
};
