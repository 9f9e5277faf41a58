import type { OfferedImagery } from '../../plan/imagery.ts';

/** What a map service offers, as far as it can be shown here. */
export interface ImageryOffer {
  /** "WMS 1.3.0" */
  readonly service: string;
  readonly title: string;
  readonly layers: readonly OfferedLayer[];
  /** Titles of layers that cannot be shown, each with one reason. */
  readonly leftOut: readonly { readonly title: string; readonly why: string }[];
}

export interface OfferedLayer extends OfferedImagery {
  /** The service's own name of it. */
  readonly key: string;
}

export type Bounds = readonly [number, number, number, number];

/** Codes of web mercator: EPSG's, and the two it went by before. */
const mercatorCodes = ['3857', '900913', '102100', '102113', '3785'];

export function isWebMercator(crs: string): boolean {
  return mercatorCodes.includes(/(\d+)\s*$/.exec(crs)?.[1] ?? '');
}

/** Clipped to what web mercator shows; null where it is no box. */
export function soundBounds(west: number, south: number, east: number, north: number) {
  const box: [number, number, number, number] = [
    Math.max(-180, west),
    Math.max(-85.0511, south),
    Math.min(180, east),
    Math.min(85.0511, north),
  ];
  return box.every(Number.isFinite) && box[0] < box[2] && box[1] < box[3] ? box : null;
}

/** An address with parameters; blanks in braces stay as they are. */
export function withParameters(base: string, parameters: Readonly<Record<string, string>>): string {
  const url = new URL(base);
  const names = Object.keys(parameters).map((name) => name.toLowerCase());
  for (const key of Array.from(url.searchParams.keys())) {
    if (names.includes(key.toLowerCase())) url.searchParams.delete(key);
  }
  url.hash = '';
  const added = Object.entries(parameters).map(
    ([key, value]) =>
      `${key}=${encodeURIComponent(value).replace(/%7B([a-z0-9+-]|%2B)+%7D/gi, decodeURIComponent)}`,
  );
  const joint = url.search === '' ? '?' : '&';
  return `${url.href.replace(/\?$/, '')}${joint}${added.join('&')}`;
}

/**
 * Where the service says that its pictures are, if that can be read from here; else the address that
 * its capabilities came from (services behind a proxy often name an inner http address).
 */
export function serviceBase(stated: string | undefined, capabilitiesUrl: string): string {
  const asked = new URL(capabilitiesUrl);
  const url = stated && URL.canParse(stated, capabilitiesUrl) ? new URL(stated, asked) : asked;
  return url.protocol === 'https:' || url.origin === asked.origin ? url.href : asked.href;
}

/** At most `most` letters of a text on one line. */
export function short(text: string, most = 200): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return line.length > most ? `${line.slice(0, most - 1)}…` : line;
}
