import type { ByteSource } from '../byte-source.ts';
import type { VectorFormat } from './vector-types.ts';

const HEAD_BYTES = 2048;

/**
 * What a file is by its first bytes; null where it is no drawing. Any zip counts as `zip`: only its
 * directory tells what is in it.
 */
export function sniffBytes(bytes: Uint8Array): VectorFormat | 'zip' | null {
  const starts = (...codes: number[]) => codes.every((code, i) => bytes[i] === code);
  if (starts(0x50, 0x4b, 3, 4) || starts(0x50, 0x4b, 5, 6)) return 'zip';
  if (starts(0, 0, 0x27, 0x0a)) return 'shapefile';
  const head = new TextDecoder('windows-1252').decode(bytes.subarray(0, HEAD_BYTES));
  // A byte order mark and the zero bytes of two-byte letters are passed over.
  const text = head.replace(/^[\u00ef\u00bb\u00bf\u00fe\u00ff]+/, '').replaceAll('\0', '');
  const first = text.trimStart()[0];
  if (first === '{') return 'geojson';
  if (first !== '<') return null;
  const root = rootName(text);
  return root === 'kml' || root === 'gpx'
    ? root
    : /<html[\s>]/i.test(text)
      ? null
      : byLikelihood(text);
}

/**
 * Whether dropped files are a drawing and not a ground: told by content, a shapefile also by one of
 * its parts. Throws only what a source throws.
 */
export async function looksLikeVectors(sources: readonly ByteSource[]): Promise<boolean> {
  for (const source of sources) {
    if (/\.(shp|dbf|kmz)$/i.test(source.name)) return true;
    if (sniffBytes(await source.read(0, HEAD_BYTES)) !== null) return true;
  }
  return false;
}

/** Local name of the outermost element, past declarations, comments and document types. */
function rootName(text: string): string | null {
  const root = /<(?:[\w.-]{1,40}:)?([A-Za-z][\w.-]{0,40})[\s/>]/.exec(
    text.replace(/<!--[^]*?-->/g, ''),
  );
  return root?.[1] ?? null;
}

/** A long comment or document type may hide the root from the first bytes. */
function byLikelihood(text: string): VectorFormat | null {
  if (/opengis\.net\/kml|google\.com\/kml|<kml/i.test(text)) return 'kml';
  return /topografix|<gpx/i.test(text) ? 'gpx' : null;
}
