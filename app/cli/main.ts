import { readFileSync } from 'node:fs';
import { CliProblem, wrongUsage } from './cli-problem.ts';
import type { Verb } from './verb.ts';

/** Each verb is loaded when it is called: `inspect` need not wait for the answers. */
const verbs: Readonly<Record<string, () => Promise<Verb>>> = {
  inspect: async () => (await import('./inspect.ts')).inspect,
  convert: async () => (await import('./convert.ts')).convert,
  water: async () => (await import('./water.ts')).water,
  answer: async () => (await import('./answer.ts')).answer,
};

const help = `assart VERB ...: the same answers as the page, without a browser

  assart inspect FILE...                   what a ground, photo, drawing or project holds
  assart convert IN... OUT                 between grounds (GeoTIFF, ASCII grid, XYZ) or drawings
                                           (GeoJSON, KML, KMZ, GPX, zipped shapefile)
  assart water DEM --rain 2.1in [--cn 77]  low spots, what a storm leaves in them, its balance
  assart water PROJECT|demo [--out DIR]    the same with what is drawn on the ground, and flow lines
  assart answer PROJECT|demo [--out DIR]   every answer of a plan

  assart VERB --help                       what a verb does, its options and what it prints
  assart --version

Prints JSON in SI units with the units in the names. Exit 0 done, 1 bad input, 2 wrong usage.`;

async function main([name, ...rest]: readonly string[]): Promise<void> {
  if (name === '--version') return print(version());
  if (name === '--help' || name === '-h' || name === 'help') return print(help);
  if (name === undefined) throw wrongUsage('Name a verb.');
  if (!Object.hasOwn(verbs, name)) throw wrongUsage(`There is no verb "${name}".`);
  const verb = await verbs[name]!();
  if (rest.includes('--help') || rest.includes('-h')) return print(verb.help);
  return verb.run(rest);
}

function print(text: string): void {
  process.stdout.write(`${text}\n`);
}

function version(): string {
  const file = new URL('../../package.json', import.meta.url);
  return (JSON.parse(readFileSync(file, 'utf8')) as { version: string }).version;
}

try {
  await main(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof CliProblem)) throw error;
  process.stderr.write(`assart: ${error.message}\n`);
  process.exitCode = error.exitCode;
}
