import { problem, type Problem } from '../result.ts';
import { looksLikeAsciiGrid } from './ascii-grid-header.ts';
import type { ByteSource } from './byte-source.ts';

export type FileKind = 'tiff' | 'ascii-grid' | 'points' | 'jpeg' | 'png';

/**
 * What a file is, by its first bytes and not by its name (a name only tells what is missing); what cannot be opened as ground or photo
 * comes back as a problem that says what to do with it. Text that is nothing else is taken for
 * points. Throws only what the source throws.
 */
export async function sniffFile(
  source: ByteSource,
): Promise<{ kind: FileKind } | { problem: Problem }> {
  const head = await source.read(0, 512);
  const starts = (...bytes: number[]) => bytes.every((byte, i) => head[i] === byte);
  const startsWith = (text: string) => starts(...[...text].map((letter) => letter.charCodeAt(0)));
  const refuse = (code: string, what: string, wayOut: string) => {
    const result = problem(code, what, wayOut, source.name);
    if (result.ok) throw new RangeError('a problem that is none');
    return { problem: result.problem };
  };
  if (head.length === 0) {
    return refuse('file-empty', 'The file is empty.', 'Download or copy it again.');
  }
  if (starts(0x49, 0x49, 0x2a, 0) || starts(0x4d, 0x4d, 0, 0x2a)) return { kind: 'tiff' };
  if (starts(0x49, 0x49, 0x2b, 0) || starts(0x4d, 0x4d, 0, 0x2b)) return { kind: 'tiff' };
  if (starts(0xff, 0xd8, 0xff)) return { kind: 'jpeg' };
  if (starts(0x89, 0x50, 0x4e, 0x47)) return { kind: 'png' };
  if (startsWith('PK')) {
    return refuse('file-zip', 'The file is a zip.', 'Unzip it and open the files inside together.');
  }
  if (startsWith('LASF')) {
    return refuse(
      'file-point-cloud',
      'The file is a lidar point cloud, which is not read yet.',
      'Open the bare-earth GeoTIFF of the same survey instead.',
    );
  }
  if (startsWith('EHFA_HEADER_TAG')) {
    return refuse(
      'file-imagine',
      'The file is an IMAGINE raster (.img).',
      'Save it as a GeoTIFF first.',
    );
  }
  if (starts(0xff, 0xfe) || starts(0xfe, 0xff)) {
    return refuse(
      'file-utf16',
      'The text is stored two bytes a letter (UTF-16).',
      'Save it as plain or UTF-8 text.',
    );
  }
  if (/^\s*(<!doctype|<html|<\?xml|<)/i.test(new TextDecoder().decode(head))) {
    return refuse(
      'file-markup',
      'The file is a web page or XML, not a ground.',
      'If you downloaded it, the server sent a page in place of the file: download it again.',
    );
  }
  if (/\.tiff?$/i.test(source.name)) {
    return refuse(
      'file-no-tiff',
      'The file is named a TIFF but is not one.',
      'Download or export it again as a GeoTIFF.',
    );
  }
  if (looksLikeAsciiGrid(head)) return { kind: 'ascii-grid' };
  if (head.some((byte) => byte < 9 || (byte > 13 && byte < 32 && byte !== 26))) {
    return refuse(
      'file-unknown',
      'The file is none of the kinds that can be opened.',
      'Open a GeoTIFF, an ASCII grid (.asc), a table of points, or a photo with its world file.',
    );
  }
  return { kind: 'points' };
}
