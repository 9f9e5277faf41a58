import { problem, type Result } from '../result.ts';

/**
 * The problem of the first named value that is not a number from `least` to `most`, in plain words
 * (names are the trade's: "heap length"); null where all are in order. With `above`, `least` itself
 * is too little.
 */
export function badNumber(
  values: Readonly<Record<string, number>>,
  least: number,
  most: number,
  above = false,
): Result<never> | null {
  for (const [name, value] of Object.entries(values)) {
    if (Number.isFinite(value) && value <= most && (above ? value > least : value >= least)) {
      continue;
    }
    const what = Number.isFinite(value)
      ? `The ${name} is ${value}.`
      : `The ${name} is not a number.`;
    const bounds =
      most === Infinity
        ? `${above ? 'above' : 'of at least'} ${least}`
        : `${above ? 'above' : 'from'} ${least}${above ? ' and up' : ''} to ${most}`;
    return problem('number-out-of-range', what, `Give a ${name} ${bounds}.`, name);
  }
  return null;
}

/** The same for values that have to be above 0. */
export function notAboveZero(values: Readonly<Record<string, number>>): Result<never> | null {
  return badNumber(values, 0, Infinity, true);
}

/** The same for values that may be 0. */
export function belowZero(values: Readonly<Record<string, number>>): Result<never> | null {
  return badNumber(values, 0, Infinity);
}

/** The same for a figure with its low and high, which have to be in order. */
export function badLowHigh(
  name: string,
  { low, likely, high }: { readonly low: number; readonly likely: number; readonly high: number },
  least: number,
  most: number,
  above = false,
): Result<never> | null {
  const bad = badNumber(
    { [`low ${name}`]: low, [name]: likely, [`high ${name}`]: high },
    least,
    most,
    above,
  );
  if (bad) return bad;
  if (low <= likely && likely <= high) return null;
  return problem(
    'low-above-high',
    `The low, likely and high ${name} are not in order: ${low}, ${likely}, ${high}.`,
    'Put the lowest first.',
    name,
  );
}
