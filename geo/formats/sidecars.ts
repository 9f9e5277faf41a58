import type { Affine } from '../raster/affine.ts';
import type { ByteSource } from './byte-source.ts';

/** A file with the small files that belong beside it. */
export interface FileSet {
  readonly main: ByteSource;
  /** Well-known text of a .prj or .aux.xml beside it. */
  readonly crsText: string | null;
  /** Cell corners to coordinates, from a world file beside it. */
  readonly affine: Affine | null;
  /** Names of the sidecars, for the record. */
  readonly beside: readonly string[];
}

const LARGEST_SIDECAR = 1 << 20;
const WORLD_FILE = /\.(tfw|tifw|tiffw|jgw|jpgw|jpegw|pgw|pngw|wld)$/i;
const SIDECAR = /\.(prj|aux\.xml|aux|xml|ovr|txt\.xml|cpg|qmd|asc\.xml)$/i;

/**
 * Sorts files into main files, in name order, each with its sidecars: the same name with another
 * ending (`tile.tif` and `tile.tfw`, `tile.prj`, `tile.tif.aux.xml`). A lone .prj beside several
 * tiles serves all of them. Sidecars that belong to nothing are left out.
 * Throws only what a source throws.
 */
export async function groupFiles(sources: readonly ByteSource[]): Promise<FileSet[]> {
  const isBeside = (source: ByteSource) =>
    WORLD_FILE.test(source.name) || SIDECAR.test(source.name);
  const beside = sources.filter(isBeside);
  const mains = sources
    .filter((source) => !isBeside(source))
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
  const projections = beside.filter((source) => /\.prj$/i.test(source.name));
  const sets: FileSet[] = [];
  for (const main of mains) {
    const own = beside.filter((source) => belongs(source.name, main.name));
    const lone = projections.length === 1 && mains.length > 1 ? projections : [];
    const all = [...new Set([...own, ...lone])];
    sets.push({
      main,
      crsText: await crsTextOf(all),
      affine: await affineOf(all),
      beside: all.map((source) => source.name),
    });
  }
  return sets;
}

function belongs(sidecar: string, main: string): boolean {
  const lower = sidecar.toLowerCase();
  const name = main.toLowerCase();
  const stem = name.replace(/\.[^.]*$/, '');
  return (
    lower.startsWith(`${stem}.`) &&
    (lower.startsWith(`${name}.`) || !lower.slice(stem.length + 1).includes('.'))
  );
}

async function crsTextOf(beside: readonly ByteSource[]): Promise<string | null> {
  for (const source of beside) {
    if (!/\.(prj|aux\.xml)$/i.test(source.name)) continue;
    const text = await textOf(source);
    if (/\.prj$/i.test(source.name)) return text;
    // GDAL's sidecar holds the system as text in an SRS element.
    const found = /<SRS[^>]*>([^<]+)<\/SRS>/.exec(text)?.[1];
    if (found) return withoutEntities(found);
  }
  return null;
}

/** World file (ESRI): a, d, b, e, and the centre of the first cell; made into the corner of it. */
async function affineOf(beside: readonly ByteSource[]): Promise<Affine | null> {
  const source = beside.find((one) => WORLD_FILE.test(one.name));
  if (!source) return null;
  const numbers = (await textOf(source)).trim().split(/\s+/).slice(0, 6).map(Number);
  if (numbers.length < 6 || !numbers.every(Number.isFinite)) return null;
  const [a, d, b, e, x, y] = numbers as [number, number, number, number, number, number];
  if (a * e - b * d === 0) return null;
  return { a, b, c: x - (a + b) / 2, d, e, f: y - (d + e) / 2 };
}

async function textOf(source: ByteSource): Promise<string> {
  const bytes = await source.read(0, Math.min(source.size, LARGEST_SIDECAR));
  return new TextDecoder('utf-8').decode(bytes);
}

function withoutEntities(text: string): string {
  const letters: Readonly<Record<string, string>> = {
    quot: '"',
    apos: "'",
    lt: '<',
    gt: '>',
    amp: '&',
  };
  return text.replace(/&(quot|apos|lt|gt|amp);/g, (_, name: string) => letters[name]!);
}
