/** Whether two plain values (JSON kind) hold the same; a key set to undefined counts as absent. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    return (
      Array.isArray(a) &&
      Array.isArray(b) &&
      a.length === b.length &&
      a.every((item, i) => sameValue(item, b[i]))
    );
  }
  const left = definedEntries(a);
  const right = new Map(definedEntries(b));
  return (
    left.length === right.size &&
    left.every(([key, value]) => right.has(key) && sameValue(value, right.get(key)))
  );
}

function definedEntries(value: object): [string, unknown][] {
  return Object.entries(value).filter((entry) => entry[1] !== undefined);
}
