import { crsFromEpsg } from './crs.ts';
import { tableSystems } from './crs-table.ts';

export interface SystemChoice {
  readonly epsg: number;
  readonly name: string;
}

/** Accepted codes that stand in no table row: degrees, web mercator, and the zones of drones. */
const otherCodes = [
  4326,
  4269,
  6318,
  3857,
  ...Array.from({ length: 60 }, (_, i) => 32_601 + i),
  ...Array.from({ length: 60 }, (_, i) => 32_701 + i),
];

/** What people write, and what stands in the names. */
const spellings: Readonly<Record<string, string>> = {
  feet: 'ft',
  foot: 'ft',
  wgs84: 'wgs 84',
  web: 'pseudo',
};
/** Words that say what every choice is. */
const empty = new Set(['epsg', 'survey', 'state', 'plane', '/', '-']);

/**
 * Coordinate systems whose name or code holds every word of the text, for a user who has to say
 * what a silent file is in: at most `most`, current realisations and shorter names first. The
 * usual other spellings are understood: EPSG:26917, wgs84, feet.
 * Example: "zone 5 california feet" finds 2229.
 */
export function findSystems(text: string, most = 12): SystemChoice[] {
  const words = wordsOf(text);
  if (words.length === 0) return [];
  const found: SystemChoice[] = [];
  const code = words.length === 1 && /^\d{4,5}$/.test(words[0]!) ? Number(words[0]) : null;
  const asked = code === null ? null : crsFromEpsg(code);
  if (code !== null && asked?.ok) found.push({ epsg: code, name: asked.value.name });
  const matches = choices()
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

function wordsOf(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[\s:,]+/)
    .filter((word) => word !== '' && !empty.has(word))
    .map((word) => spellings[word] ?? word);
}

let known: readonly SystemChoice[] | null = null;

function choices(): readonly SystemChoice[] {
  if (known) return known;
  const all: SystemChoice[] = tableSystems().map(({ epsg, name }) => ({ epsg, name }));
  for (const epsg of otherCodes) {
    const crs = crsFromEpsg(epsg);
    if (crs.ok && !all.some((one) => one.epsg === epsg)) all.push({ epsg, name: crs.value.name });
  }
  known = all;
  return known;
}

/** Plain NAD83 and its 2011 adjustment are what surveys of today come in; drones say WGS 84. */
function rank(name: string): number {
  if (name.startsWith('NAD83(2011)') || name.startsWith('NAD83 /')) return 0;
  return name.startsWith('WGS 84') ? 1 : 2;
}
