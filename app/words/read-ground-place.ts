import { parsePlace } from './parse-place.ts';

/** What a typed place is: degrees, a pair in some projected system, or none. */
export type GroundPlace =
  | { readonly is: 'degrees'; readonly at: readonly [lng: number, lat: number] }
  | {
      readonly is: 'projected';
      readonly x: number;
      readonly y: number;
      /** What is written of the system: "EPSG:26918", "UTM 18N"; may be empty. */
      readonly system: string;
      /** Too small for eastings and northings, so more likely degrees with a slip. */
      readonly isSmall: boolean;
    }
  | { readonly is: 'none' };

/** A number with or without commas between thousands. */
const number = String.raw`([+-]?(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?))`;
const unit = String.raw`(?:\s*(?:m|ft|us-ft|feet|meters))?`;
const pair = new RegExp(
  String.raw`^(?:e\s*)?${number}${unit}(?:\s*m?e)?(?:\s*[,;]\s*|\s+)(?:n\s*)?${number}${unit}(?:\s*m?n(?![a-z]))?(?:[\s,;]+(.*))?$`,
  'i',
);

/** No state-plane or UTM easting or northing of land with plots on it is smaller, in any unit. */
const leastEasting = 1000;

/**
 * Reads where somebody's ground is: latitude and longitude as `parsePlace` has them, else easting
 * and northing with the name or code of their system behind, or without one.
 * Example: "500000 E 3984000 N EPSG:26918" is that pair in that system.
 */
export function readGroundPlace(text: string): GroundPlace {
  const at = parsePlace(text);
  if (at) return { is: 'degrees', at };
  const found = pair.exec(text.trim().replace(/[\u2012-\u2015\u2212]/g, '-'));
  if (!found) return { is: 'none' };
  const [x, y] = [found[1], found[2]].map((digits) => Number(digits!.replaceAll(',', '')));
  const isSmall = Math.max(Math.abs(x!), Math.abs(y!)) < leastEasting;
  return { is: 'projected', x: x!, y: y!, system: (found[3] ?? '').trim(), isSmall };
}
