import type { ByteSource } from './byte-source.ts';
import { isProjectZip, listMembers } from './project/project-parts.ts';
import { isTileZip } from './tile-zip.ts';
import { sniffBytes } from './vector/sniff-vector.ts';

/** Files of a drop by what they go to: places in the list that was sorted. */
export interface SortedFiles {
  readonly projects: readonly number[];
  readonly drawings: readonly number[];
  /** Elevation, points, photos, and what belongs beside them; also zips of them. */
  readonly grounds: readonly number[];
}

type Sort = keyof SortedFiles;

const HEAD_BYTES = 2048;
const DRAWING_NAME = /\.(geojson|json|kml|kmz|gpx|shp)$/i;
const SHAPEFILE_PART = /\.(shx|dbf|prj|cpg|qpj|sbn|sbx|qix|shp\.xml)$/i;
const DRAWING_MEMBER = /\.(shp|geojson|json|kml|gpx)$/i;

/**
 * Tells projects, drawings and grounds apart, by content before name; only heads and the directories
 * of zips are read. A part of a shapefile goes with its .shp. A zip that holds both a drawing and
 * elevation goes both ways. What is nothing known goes where its refusal is worded best.
 */
export async function sortFiles(sources: readonly ByteSource[]): Promise<SortedFiles> {
  const stems = new Set(
    sources
      .filter(({ name }) => /\.shp$/i.test(name))
      .map(({ name }) => name.slice(0, -4).toLowerCase()),
  );
  const sorted: Record<Sort, number[]> = { projects: [], drawings: [], grounds: [] };
  const undecided: number[] = [];
  for (let i = 0; i < sources.length; i++) {
    const { name } = sources[i];
    if (SHAPEFILE_PART.test(name)) {
      const stem = name.replace(SHAPEFILE_PART, '').toLowerCase();
      if (stems.has(stem)) sorted.drawings.push(i);
      else undecided.push(i);
      continue;
    }
    // A file that cannot be read goes by its name to the reader that says so.
    const sorts = await sortsOf(sources[i]).catch(() => [sortByName(name)]);
    for (const sort of sorts) sorted[sort].push(i);
  }
  // A lone .prj belongs to the elevation beside it; alone, the reader of shapefiles says what lacks.
  const rest = sorted.grounds.length > 0 ? sorted.grounds : sorted.drawings;
  rest.push(...undecided);
  return sorted;
}

async function sortsOf(source: ByteSource): Promise<readonly Sort[]> {
  const kind = sniffBytes(await source.read(0, HEAD_BYTES));
  if (kind !== 'zip') return [kind === null ? sortByName(source.name) : 'drawings'];
  if (await isProjectZip(source)) return ['projects'];
  const members = await listMembers(source);
  if (!members.ok) return ['drawings'];
  const isDrawing = members.value.some(({ path }) => DRAWING_MEMBER.test(path));
  const isTiles = isTileZip(members.value, !isDrawing);
  return isTiles ? (isDrawing ? ['drawings', 'grounds'] : ['grounds']) : ['drawings'];
}

function sortByName(name: string): Sort {
  return DRAWING_NAME.test(name) ? 'drawings' : 'grounds';
}
