import { parseArgs, type ParseArgsConfig } from 'node:util';
import type { Basis } from '../../geo/answers/finding.ts';
import { basisSaid } from '../words/input-words.ts';
import { CliProblem, wrongUsage } from './cli-problem.ts';

/** One verb of the command line. */
export interface Verb {
  /** First line: how it is called. Then what it does, its options and what it prints. */
  readonly help: string;
  run(args: readonly string[]): Promise<void>;
}

type Options = NonNullable<ParseArgsConfig['options']>;

/** Options and files of a call; a wrong option is wrong usage. `files`: how many are wanted. */
export function readArguments<O extends Options>(
  verb: string,
  args: readonly string[],
  options: O,
  files: { readonly least: number; readonly most: number },
) {
  let parsed;
  try {
    parsed = parseArgs({ args: joined(args), options, allowPositionals: true, strict: true });
  } catch (error) {
    const [first] = (error instanceof Error ? error.message : String(error)).split('. ');
    throw wrongUsage(`${first!.replace(/\.$/, '')}.`, verb);
  }
  const { length } = parsed.positionals;
  if (length < files.least || length > files.most) {
    const wanted = files.least === files.most ? `${files.least}` : `at least ${files.least}`;
    throw wrongUsage(
      `${verb} takes ${wanted} ${files.least === 1 && files.most === 1 ? 'name' : 'names'}, not ${length}.`,
      verb,
    );
  }
  return parsed;
}

/** An option's negative number belongs to it, so that it is refused as a number and not as an option. */
function joined(args: readonly string[]): string[] {
  const all: string[] = [];
  for (const arg of args) {
    const last = all.at(-1);
    if (last && /^--[a-z-]+$/.test(last) && /^-\.?\d/.test(arg))
      all[all.length - 1] = `${last}=${arg}`;
    else all.push(arg);
  }
  return all;
}

/** Answers as JSON: numbers in SI, and metric measures in the sentences of how they were worked out. */
export function jsonOf(value: unknown): string {
  return `${JSON.stringify(value, (_, of: unknown) => (isBasis(of) ? basisSaid(of, 'metric') : of), 2)}\n`; // prettier-ignore
}

function isBasis(value: unknown): value is Basis {
  return typeof value === 'object' && value !== null && 'method' in value && 'confidence' in value;
}

/** JSON on standard output. Typed arrays are never printed whole. */
export function printJson(value: unknown): void {
  process.stdout.write(jsonOf(value));
}

/** Node's own file errors as one line for a person; anything else is passed on. */
export function fileProblem(error: unknown, path: string): CliProblem | null {
  const code = (error as { code?: string } | null)?.code;
  const says: Readonly<Record<string, string>> = {
    ENOENT: 'There is no such file or folder. Check the name.',
    EACCES: 'The file may not be opened. Check its permissions.',
    EISDIR: 'This is a folder. Name a file.',
    ENOTDIR: 'A part of this path is a file, not a folder. Check the name.',
    ENOSPC: 'The disk is full. Make room and try again.',
  };
  return code !== undefined && says[code] ? new CliProblem(`${path}: ${says[code]}`, 1) : null;
}
