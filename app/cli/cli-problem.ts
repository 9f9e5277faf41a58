import type { Problem } from '../../geo/result.ts';

/** Ends a verb: exit 1 for what the input is to blame for, 2 for how the verb was called. */
export class CliProblem extends Error {
  readonly exitCode: 1 | 2;
  constructor(message: string, exitCode: 1 | 2) {
    super(message);
    this.exitCode = exitCode;
  }
}

/** Bad input on one line: what is wrong, where, and the way out. */
export function badInput({ what, where, wayOut }: Problem): CliProblem {
  const place = where === undefined ? '' : `${where}: `;
  return new CliProblem(`${place}${what} ${wayOut}`.replace(/\s+/g, ' '), 1);
}

type NotOpened<Q extends string> =
  | { readonly kind: 'refused'; readonly problem: Problem }
  | { readonly kind: 'ask'; readonly why: string; readonly question: Q };

/** Why a file was not opened; of a question that nobody is there to answer, the option that answers it. */
export function notOpened<Q extends string>(
  opening: NotOpened<Q>,
  wayOut: Readonly<Record<Q, string>>,
): CliProblem {
  if (opening.kind === 'refused') return badInput(opening.problem);
  return new CliProblem(`${opening.why} ${wayOut[opening.question]}`, 1);
}

export function wrongUsage(what: string, verb?: string): CliProblem {
  const help = verb === undefined ? 'assart --help' : `assart ${verb} --help`;
  return new CliProblem(`${what} See: ${help}`, 2);
}
