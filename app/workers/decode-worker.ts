import { decodeBlock } from '../../geo/formats/geotiff/decode-block.ts';
import type { FromDecodeWorker, ToDecodeWorker } from './decode-pool.ts';

/** Unpacks blocks of a GeoTIFF beside the ground worker; holds nothing between two blocks. */

interface Scope {
  postMessage(message: FromDecodeWorker, transfer: Transferable[]): void;
  onmessage: ((event: MessageEvent<ToDecodeWorker>) => void) | null;
}
const scope = self as unknown as Scope;

scope.onmessage = async ({ data: { job, bytes, params, spare } }) => {
  try {
    const block = await decodeBlock(bytes, params, spare);
    scope.postMessage({ job, ok: true, block }, [block]);
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    scope.postMessage({ job, ok: false, message }, []);
  }
};
scope.postMessage({ ready: true }, []);
