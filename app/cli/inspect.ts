import { groundFacts } from './ground-facts.ts';
import {
  groundChoices,
  groundOptions,
  groundOptionsHelp,
  openOrRefuse,
  withFiles,
} from './ground-options.ts';
import { photoFacts } from './photo-facts.ts';
import { printJson, readArguments, type Verb } from './verb.ts';

/** What a file holds, as the page would read it. */
export const inspect: Verb = {
  help: `assart inspect FILE... [options]

Prints what a ground or a photo holds, as the page would read it: place, size, heights, units, date
and what was done on the way in. Several files are tiles of one survey; sidecars (.prj, world file)
are named along with them.

Options
${groundOptionsHelp}

Prints JSON in SI units. Exit 0 done, 1 bad input, 2 wrong usage.`,
  async run(args) {
    const { values, positionals } = readArguments('inspect', args, groundOptions, {
      least: 1,
      most: Infinity,
    });
    const choices = groundChoices(values, 'inspect');
    await withFiles(positionals, async (sources) => {
      const opening = await openOrRefuse(sources, choices);
      if (opening.kind === 'photo') printJson(photoFacts(opening.photo));
      else printJson(groundFacts(opening.grid, opening.draft));
    });
  },
};
