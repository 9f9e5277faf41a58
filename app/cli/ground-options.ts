import type { LinearUnit } from '../../geo/frame/crs-types.ts';
import { crsFromText } from '../../geo/frame/crs.ts';
import { openGround, type Opening } from '../../geo/formats/open-ground.ts';
import type { GroundChoices } from '../../geo/formats/opening.ts';
import { badInput, CliProblem, notOpened, wrongUsage } from './cli-problem.ts';
import { openFileSource, type FileSource } from './file-source.ts';
import { fileProblem } from './verb.ts';

/** Options that every verb that reads a ground takes. */
export const groundOptions = {
  crs: { type: 'string' },
  'vertical-unit': { type: 'string' },
  columns: { type: 'string' },
  'cell-size': { type: 'string' },
  window: { type: 'string' },
  help: { type: 'boolean', short: 'h' },
} as const;

export const groundOptionsHelp = `  --crs CODE            coordinate system by EPSG code, such as 26915 or EPSG:2264
  --vertical-unit UNIT  metre, us-survey-foot or international-foot
  --columns X,Y,Z       table of points: columns of easting, northing and height, from 1
  --cell-size METRES    scattered points: cell of the ground made of them
  --window C,R,W,H      part of a large survey: first column and row from 0, width and height`;

const UNITS: readonly LinearUnit[] = ['metre', 'us-survey-foot', 'international-foot'];

interface GroundValues {
  readonly crs?: string;
  readonly 'vertical-unit'?: string;
  readonly columns?: string;
  readonly 'cell-size'?: string;
  readonly window?: string;
}

/** What the options say of files that do not say it themselves. */
export function groundChoices(values: GroundValues, verb: string): GroundChoices {
  const choices: { -readonly [K in keyof GroundChoices]: GroundChoices[K] } = {};
  if (values.crs !== undefined) {
    const crs = crsFromText(values.crs);
    if (!crs.ok) throw badInput(crs.problem);
    if (crs.value.epsg === null) throw wrongUsage('--crs takes an EPSG code.', verb);
    choices.epsg = crs.value.epsg;
  }
  const unit = values['vertical-unit'];
  if (unit !== undefined) {
    const found = UNITS.find((one) => one === unit);
    if (!found) {
      throw new CliProblem(
        `The vertical unit "${unit}" is not known. Use one of: ${UNITS.join(', ')}.`,
        1,
      );
    }
    choices.verticalUnit = found;
  }
  if (values.columns !== undefined) {
    const [x, y, z] = wholeNumbers(values.columns, 3, '--columns', verb).map((n) => n - 1) as [
      number,
      number,
      number,
    ];
    if (Math.min(x, y, z) < 0) throw wrongUsage('--columns counts from 1.', verb);
    choices.columns = { x, y, z, degrees: false };
  }
  if (values['cell-size'] !== undefined) {
    const size = Number(values['cell-size']);
    if (!(size > 0 && size < Infinity)) throw wrongUsage('--cell-size takes metres above 0.', verb);
    choices.cellMeters = size;
  }
  if (values.window !== undefined) {
    const [column, row, width, height] = wholeNumbers(values.window, 4, '--window', verb) as [
      number,
      number,
      number,
      number,
    ];
    choices.window = { column, row, width, height };
  }
  return choices;
}

function wholeNumbers(text: string, count: number, option: string, verb: string): number[] {
  const numbers = text.split(',').map(Number);
  if (numbers.length !== count || !numbers.every((n) => Number.isInteger(n) && n >= 0)) {
    throw wrongUsage(`${option} takes ${count} whole numbers with commas between.`, verb);
  }
  return numbers;
}

/** Opens files for `use` and closes them whatever happens. */
export async function withFiles<T>(
  paths: readonly string[],
  use: (sources: readonly FileSource[]) => Promise<T>,
): Promise<T> {
  const sources: FileSource[] = [];
  try {
    for (const path of paths) {
      try {
        sources.push(await openFileSource(path));
      } catch (error) {
        throw fileProblem(error, path) ?? error;
      }
    }
    return await use(sources);
  } finally {
    for (const source of sources) await source.close();
  }
}

/** Ground or photo; a question that nobody is there to answer is bad input that names the option. */
export async function openOrRefuse(
  sources: readonly FileSource[],
  choices: GroundChoices,
): Promise<Exclude<Opening, { kind: 'ask' } | { kind: 'refused' }>> {
  const opening = await openGround(sources, choices);
  if (opening.kind === 'refused' || opening.kind === 'ask') throw notOpened(opening, WAY_OUT);
  return opening;
}

const WAY_OUT = {
  crs: 'Name it with --crs, such as --crs 26915, or give the .prj file along.',
  'vertical-unit': `Name it with --vertical-unit: ${UNITS.join(', ')}.`,
  window: 'Name the part with --window COLUMN,ROW,WIDTH,HEIGHT.',
} as const;
