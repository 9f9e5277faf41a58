import { SaxesParser } from 'saxes';

/** An element with its local name (no prefix), its own text, and attributes by local name. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly text: string;
  readonly children: readonly XmlElement[];
}

const DEEPEST = 100;
const MOST_ELEMENTS = 400_000;

/**
 * Reads a short XML document (XML 1.0) whole. Document types are passed over: no entity is defined or
 * fetched. Null where it is not well-formed, not closed, nested deeper than 100 or has more than
 * 400,000 elements. Example: `<a:b c="1">x</a:b>` gives name `b`, attribute `c`, text `x`.
 */
export function xmlTree(text: string): XmlElement | null {
  const parser = new SaxesParser({ xmlns: false, position: false });
  interface Open {
    name: string;
    attributes: Record<string, string>;
    text: string;
    children: Open[];
  }
  const stack: Open[] = [];
  let root: Open | null = null;
  let count = 0;
  let sound = true;
  parser.on('opentag', ({ name, attributes }) => {
    if (stack.length >= DEEPEST || ++count > MOST_ELEMENTS) throw new TooMuch();
    const local: Record<string, string> = {};
    for (const [key, value] of Object.entries(attributes)) local[localName(key)] = value;
    const element: Open = { name: localName(name), attributes: local, text: '', children: [] };
    const parent = stack[stack.length - 1];
    if (parent) parent.children.push(element);
    else root ??= element;
    stack.push(element);
  });
  const add = (piece: string) => {
    const top = stack[stack.length - 1];
    if (top) top.text += piece;
  };
  parser.on('text', add);
  parser.on('cdata', add);
  parser.on('closetag', () => {
    const closed = stack.pop();
    if (closed) closed.text = closed.text.trim();
  });
  parser.on('error', (error) => {
    if (!/undefined entity/.test(error.message)) sound = false;
  });
  try {
    parser.write(text.slice(Math.max(0, text.search(/\S/)))).close();
  } catch (error) {
    if (error instanceof TooMuch) return null;
    throw error;
  }
  return sound ? root : null;
}

class TooMuch extends Error {}

function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

/** Children of that name, along a path of names; all branches are followed. */
export function childrenAt(element: XmlElement, ...path: readonly string[]): XmlElement[] {
  let found: XmlElement[] = [element];
  for (const name of path) {
    found = found.flatMap((e) => e.children.filter((child) => child.name === name));
  }
  return found;
}

/** Text of the first child along a path; empty where there is none. */
export function textAt(element: XmlElement, ...path: readonly string[]): string {
  return childrenAt(element, ...path)[0]?.text ?? '';
}
