import { SaxesParser } from 'saxes';
import type { Work } from '../../work.ts';
import { FETCH_AGAIN, VectorError } from './vector-error.ts';

export interface XmlHandler {
  /** `name` without its prefix; the root has depth 0. */
  open(name: string, attributes: Readonly<Record<string, string>>, depth: number): void;
  /** `text` is what stood directly in the element, CDATA included, blanks at its head perhaps not. */
  close(name: string, text: string, depth: number): void;
}

export interface XmlEnding {
  /** The file ends before its elements do. */
  readonly isCut: boolean;
  /** References to entities that the file defines itself: left standing as text. */
  readonly unknownEntities: number;
}

const CHUNK_LETTERS = 1 << 16;
const DEEPEST = 256;

/**
 * Walks an XML text (XML 1.0, fifth edition) element by element; yields per 64 k letters. Document
 * types are passed over, so entities are neither defined nor fetched; processing instructions and
 * comments are passed over. Element names are told by their local part.
 * @param root local name that the outermost element must have
 * Throws VectorError for what is not well-formed, nested deeper than 256, or another kind of XML.
 */
export function* walkXml(
  text: string,
  file: string,
  root: string,
  handler: XmlHandler,
): Work<XmlEnding> {
  const parser = new SaxesParser({ xmlns: false, position: false });
  // Text directly in each open element, innermost last.
  const texts: string[] = [];
  let unknownEntities = 0;
  let isAtEnd = false;
  let isCut = false;
  parser.on('opentag', ({ name, attributes }) => {
    const local = localName(name);
    if (texts.length === 0 && local !== root) throw otherRoot(local, root, file);
    if (texts.length > DEEPEST) throw tooDeep(file);
    handler.open(local, attributes, texts.length);
    texts.push('');
  });
  const add = (piece: string) => {
    const top = texts.length - 1;
    if (top < 0) return;
    // The line ends between hundreds of thousands of elements are not worth keeping.
    if (piece.length < 40 && texts[top] === '' && piece.trim() === '') return;
    texts[top] += piece;
  };
  parser.on('text', add);
  parser.on('cdata', add);
  parser.on('closetag', ({ name }) => {
    const own = texts.pop() ?? '';
    // What was never closed is no whole element.
    if (!isAtEnd) handler.close(localName(name), own, texts.length);
  });
  parser.on('error', (error) => {
    if (/undefined entity/.test(error.message)) unknownEntities++;
    else if (isAtEnd) isCut = true;
    else throw malformed(error.message, parser.line, file);
  });
  const start = text.search(/\S/);
  for (let at = Math.max(0, start); at < text.length; at += CHUNK_LETTERS) {
    parser.write(text.slice(at, at + CHUNK_LETTERS));
    yield { share: Math.min(1, (at + CHUNK_LETTERS) / text.length), doing: `Reading ${file}` };
  }
  isAtEnd = true;
  parser.close();
  return { isCut, unknownEntities };
}

function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

function otherRoot(found: string, wanted: string, file: string): VectorError {
  const shown = found.slice(0, 40);
  return /^html$/i.test(found)
    ? new VectorError(
        'file-markup',
        'The file is a web page.',
        'If you downloaded it, the server sent a page in place of the file: download it again.',
        file,
      )
    : new VectorError(
        'xml-other',
        `The file is XML of another kind: <${shown}> in place of <${wanted}>.`,
        'Export it as GeoJSON, KML, GPX or shapefile.',
        file,
      );
}

function tooDeep(file: string): VectorError {
  return new VectorError(
    'xml-too-deep',
    'The file nests its elements deeper than any drawing does.',
    FETCH_AGAIN,
    file,
  );
}

function malformed(message: string, line: number, file: string): VectorError {
  const why = message
    .replace(/^\d+:\d+: /, '')
    .replace(/\.$/, '')
    .slice(0, 100);
  return new VectorError(
    'xml-damaged',
    `The file is damaged: its XML breaks off at line ${line} (${why}).`,
    FETCH_AGAIN,
    file,
  );
}
