import type { XY } from './raw-feature.ts';

export interface KmlCoordinates {
  readonly positions: XY[];
  /** Third numbers; NaN where there is none. */
  readonly heights: number[];
}

/**
 * Positions of a KML `coordinates` text (OGC 12-007r2, 16.9): longitude,latitude[,altitude] with
 * blanks between; blanks beside the commas, which many files have, are passed over. What is no
 * number gives NaN. One pass. Never throws.
 * Example: "-75.1,36.2,0 -75,36.2" gives two positions, heights 0 and NaN.
 */
export function kmlCoordinates(text: string): KmlCoordinates {
  const positions: XY[] = [];
  const heights: number[] = [];
  const length = text.length;
  let at = skipBlanks(text, 0);
  while (at < length) {
    const tuple = [Number.NaN, Number.NaN, Number.NaN];
    for (let i = 0; ; i++) {
      const start = at;
      while (at < length && text[at] !== ',' && !isBlank(text.charCodeAt(at))) at++;
      if (i < 3 && at > start) tuple[i] = Number(text.slice(start, at));
      at = skipBlanks(text, at);
      if (text[at] !== ',') break;
      at = skipBlanks(text, at + 1);
    }
    positions.push([tuple[0], tuple[1]]);
    heights.push(tuple[2]);
  }
  return { positions, heights };
}

/** One `gx:coord`: longitude, latitude and altitude with blanks between. */
export function trackCoordinate(text: string): [number, number, number] {
  const [lng = '', lat = '', height = ''] = text.slice(0, 200).trim().split(/\s+/);
  const numberOf = (part: string) => (part === '' ? Number.NaN : Number(part));
  return [numberOf(lng), numberOf(lat), numberOf(height)];
}

function skipBlanks(text: string, from: number): number {
  let at = from;
  while (at < text.length && isBlank(text.charCodeAt(at))) at++;
  return at;
}

function isBlank(code: number): boolean {
  return code === 32 || (code >= 9 && code <= 13) || code === 0xa0;
}
