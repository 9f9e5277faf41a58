import { geographicCodeOf, systemByCode, tableSystems } from './crs-table.ts';
import { crsFromEpsg } from './crs.ts';
import type { HorizontalCrs } from './crs-types.ts';
import { REALISATIONS } from './realisation.ts';

let byProj: Map<string, number> | undefined;

/**
 * The coordinate system whose PROJ string this is, character for character as `crs.ts` gives it;
 * null where none of ours has it. Realisations of one datum share a string: the oldest is named.
 * `+proj=longlat +datum=NAD83 +no_defs` gives EPSG 4269.
 */
export function crsFromProj(proj: string): HorizontalCrs | null {
  byProj ??= projTable();
  const code = byProj.get(proj);
  if (code === undefined) return null;
  const crs = crsFromEpsg(code);
  return crs.ok ? crs.value : null;
}

function projTable(): Map<string, number> {
  const codes = [
    3857,
    ...REALISATIONS.map(geographicCodeOf),
    ...Array.from({ length: 60 }, (_, i) => [32_601 + i, 32_701 + i]).flat(),
    ...tableSystems().map((system) => system.epsg),
  ];
  const table = new Map<string, number>();
  for (const code of codes) {
    if (code >= 32_600 && code < 32_800 && !systemByCode(code)) continue;
    const crs = crsFromEpsg(code);
    if (crs.ok && !table.has(crs.value.proj)) table.set(crs.value.proj, code);
  }
  return table;
}
