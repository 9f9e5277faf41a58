import { crsFromEpsg } from './crs.ts';
import { tableSystems } from './crs-table.ts';

export interface SystemChoice {
  readonly epsg: number;
  readonly name: string;
}

/**
 * Coordinate systems whose name or code holds every word of the text, for a user who has to say
 * what a silent file is in: at most `most`, current realisations and shorter names first. A code
 * that is accepted but stands in no table row (a WGS84 UTM zone, 4326) is found by its number.
 * Example: "zone 5 california ftUS" finds 2229.
 */
export function findSystems(text: string, most = 12): SystemChoice[] {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const found: SystemChoice[] = [];
  const asked = /^\d{4,5}$/.test(text.trim()) ? crsFromEpsg(Number(text.trim())) : null;
  if (asked?.ok) found.push({ epsg: Number(text.trim()), name: asked.value.name });
  const matches = tableSystems()
    .filter(({ epsg, name }) => {
      const line = name.toLowerCase();
      return words.every((word) => line.includes(word) || String(epsg) === word);
    })
    .sort(
      (a, b) => rank(a.name) - rank(b.name) || a.name.length - b.name.length || a.epsg - b.epsg,
    );
  for (const { epsg, name } of matches) {
    if (found.length >= most) break;
    if (!found.some((one) => one.epsg === epsg)) found.push({ epsg, name });
  }
  return found;
}

/** Plain NAD83 and its 2011 adjustment are what surveys of today come in. */
function rank(name: string): number {
  if (name.startsWith('NAD83(2011)') || name.startsWith('NAD83 /')) return 0;
  return 1;
}
