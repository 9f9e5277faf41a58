/** One node of well-known text: a keyword with numbers, texts, bare words and nodes inside. */
export interface WktNode {
  /** Upper case. */
  readonly keyword: string;
  readonly values: readonly (string | number)[];
  readonly nodes: readonly WktNode[];
}

/**
 * Reads well-known text of any flavour (OGC WKT1, ESRI .prj, WKT2) into its nodes; more than one
 * stands side by side when a .prj carries its vertical system after a comma. Null when the text is
 * not well-formed. Round brackets are allowed, a doubled quote is a quote.
 */
export function parseWkt(text: string): WktNode[] | null {
  const tokens = text.match(/"(?:[^"]|"")*"|[[\](),"]|[^\s[\](),"]+/g);
  if (!tokens) return null;
  let at = 0;

  const node = (): WktNode | null => {
    const keyword = tokens[at++];
    if (!/^[A-Za-z][\w]*$/.test(keyword ?? '') || !isOpening(tokens[at++])) return null;
    const values: (string | number)[] = [];
    const nodes: WktNode[] = [];
    for (;;) {
      if (isOpening(tokens[at + 1])) {
        const inner = node();
        if (!inner) return null;
        nodes.push(inner);
      } else {
        const value = readValue(tokens[at++]);
        if (value === null) return null;
        values.push(value);
      }
      const next = tokens[at++];
      if (next === ']' || next === ')') return { keyword: keyword!.toUpperCase(), values, nodes };
      if (next !== ',') return null;
    }
  };

  const roots: WktNode[] = [];
  for (;;) {
    const root = node();
    if (!root) return null;
    roots.push(root);
    if (at >= tokens.length) return roots;
    if (tokens[at++] !== ',') return null;
  }
}

/** First node inside `parent` with one of the keywords. */
export function child(parent: WktNode, ...keywords: string[]): WktNode | undefined {
  return parent.nodes.find((node) => keywords.includes(node.keyword));
}

/** The node's first text, or ''. */
export function nameOf(node: WktNode | undefined): string {
  const first = node?.values[0];
  return typeof first === 'string' ? first : '';
}

/** The value at `index` as a number, or NaN. */
export function numberAt(node: WktNode | undefined, index: number): number {
  const value = node?.values[index];
  return value === undefined ? NaN : Number(value);
}

/** EPSG code of the node itself (AUTHORITY or ID), or null. */
export function epsgOf(node: WktNode): number | null {
  const id = child(node, 'AUTHORITY', 'ID');
  if (!id || !/^epsg$/i.test(nameOf(id))) return null;
  const code = numberAt(id, 1);
  return Number.isInteger(code) && code > 0 ? code : null;
}

function isOpening(token: string | undefined): boolean {
  return token === '[' || token === '(';
}

function readValue(token: string | undefined): string | number | null {
  if (token === undefined || /^[[\](),"]$/.test(token)) return null;
  if (token.startsWith('"')) return token.slice(1, -1).replaceAll('""', '"');
  const number = Number(token);
  return Number.isNaN(number) ? token : number;
}
