import { addProtocol } from 'maplibre-gl';
import { tileKinds, type TileAddress, type TileKind } from './tile-kind.ts';

export type RequestTile = (
  tile: TileAddress & { readonly kind: TileKind },
  signal: AbortSignal,
) => Promise<ImageBitmap | null>;

const scheme = 'assart-tile';

/** The version stands in the address, so that a tile of an older surface is never taken for new. */
export function tileTemplate(kind: TileKind, version: string): string {
  return `${scheme}://${kind}/${encodeURIComponent(version)}/{z}/{x}/{y}`;
}

/** Throws RangeError for an address that is not one of ours. */
export function parseTileAddress(url: string): { kind: TileKind; z: number; x: number; y: number } {
  const match = /^assart-tile:\/\/([a-z]+)\/[^/]*\/(\d+)\/(\d+)\/(\d+)$/.exec(url);
  if (!match || !(tileKinds as readonly string[]).includes(match[1])) {
    throw new RangeError(`Not a tile address: ${url}`);
  }
  const [, kind, z, x, y] = match;
  return { kind: kind as TileKind, z: Number(z), x: Number(x), y: Number(y) };
}

/** Answers the map's tile requests from now on; one map a page. A null tile is a clear one. */
export function serveTiles(requestTile: RequestTile, size: number): void {
  addProtocol(scheme, async ({ url }, { signal }) => {
    const bitmap = await requestTile({ ...parseTileAddress(url), size }, signal);
    // The map takes null for an empty tile; its type does not say so.
    return { data: bitmap as ImageBitmap };
  });
}
