/**
 * JSON text in which equal values have equal text: keys in the order of their UTF-16 code units,
 * numbers and strings in the one form of RFC 8785 (JSON Canonicalization Scheme); without `indent`
 * exactly that scheme. Members that are undefined are left out.
 * @param indent blanks for each level; 0 puts all on one line
 * Throws RangeError for what JSON cannot hold (NaN, an infinity, a function, undefined in a list).
 * Example: `{b: 1e21, a: -0}` gives `{"a":0,"b":1e+21}`.
 */
export function canonicalJson(value: unknown, indent = 0): string {
  return write(value, indent, '');
}

function write(value: unknown, indent: number, margin: string): string {
  if (value === null || typeof value === 'boolean' || typeof value === 'string') {
    return JSON.stringify(value);
  }
  if (typeof value === 'number' && Number.isFinite(value)) return JSON.stringify(value);
  if (typeof value !== 'object') throw new RangeError(`not a JSON value: ${String(value)}`);
  const deeper = indent > 0 ? `${margin}${' '.repeat(indent)}` : '';
  if (Array.isArray(value)) {
    // Positions and other lists of numbers stay on one line, or a plan has a million lines.
    const isFlat = value.every((item) => typeof item !== 'object' || item === null);
    const items = value.map((item) => write(item, isFlat ? 0 : indent, deeper));
    return isFlat ? `[${items.join(',')}]` : wrap('[', items, ']', indent, margin, deeper);
  }
  const members = Object.keys(value)
    .sort()
    .flatMap((key) => {
      const member = (value as Record<string, unknown>)[key];
      if (member === undefined) return [];
      const text = write(member, indent, deeper);
      return [`${JSON.stringify(key)}:${indent > 0 ? ' ' : ''}${text}`];
    });
  return wrap('{', members, '}', indent, margin, deeper);
}

function wrap(
  open: string,
  items: readonly string[],
  close: string,
  indent: number,
  margin: string,
  deeper: string,
): string {
  if (items.length === 0 || indent === 0) return `${open}${items.join(',')}${close}`;
  return `${open}\n${deeper}${items.join(`,\n${deeper}`)}\n${margin}${close}`;
}
