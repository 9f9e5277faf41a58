import { addProtocol } from 'maplibre-gl';
import { tileAddress } from '../../geo/formats/imagery/tile-address.ts';
import type { ImageryLayer } from '../../geo/plan/imagery.ts';
import { ImageryTileMissing } from './tile-missing.ts';

/** One tile of online imagery, ready to fetch. */
export interface ImageryOrder {
  readonly id: string;
  readonly url: string;
}

/** Fetches a tile; rejects where there is none, so that the map stretches a coarser one. */
export type RequestImagery = (order: ImageryOrder, signal: AbortSignal) => Promise<ImageBitmap>;

const scheme = 'assart-imagery';

/** `round` changes when the user wants all tiles tried anew. */
export function imageryTemplate(id: string, round: number): string {
  return `${scheme}://${id}/${round}/{z}/{x}/{y}`;
}

/**
 * Answers the map's requests for online imagery from now on; one map a page. Going through here
 * rather than letting the map fetch keeps faults readable and lets any axis order be asked for.
 */
export function serveImagery(
  layerOf: (id: string) => ImageryLayer | undefined,
  request: RequestImagery,
): void {
  addProtocol(scheme, async ({ url }, { signal }) => {
    const match = /^assart-imagery:\/\/([a-z0-9-]+)\/\d+\/(\d+)\/(\d+)\/(\d+)$/.exec(url);
    if (!match) throw new RangeError(`Not an imagery address: ${url}`);
    const [, id, z, x, y] = match as unknown as [string, string, string, string, string];
    const layer = layerOf(id);
    if (!layer) throw new ImageryTileMissing(`${id} is gone`);
    const address = tileAddress(layer.template, Number(z), Number(x), Number(y));
    return { data: await request({ id, url: address }, signal) };
  });
}
