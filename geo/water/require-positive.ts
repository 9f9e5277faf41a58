/** Throws RangeError, naming it, for the first value that is not above 0 and finite. */
export function requirePositive(values: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(values)) {
    if (!(value > 0 && value < Infinity)) throw new RangeError(`${name} of ${value}`);
  }
}
