import type { RequestImagery } from '../../layers/imagery/imagery-protocol.ts';
import { ImageryTileMissing } from '../../layers/imagery/tile-missing.ts';
import type { Problem } from '../../geo/result.ts';
import { session } from '../store/session.ts';
import { fetchWithin, noTile, tileLimits, type FetchLimits } from './imagery-fetch.ts';

/** After so many faults in a row a server is left alone until the user wants to try again. */
const mostFaults = 4;

export interface ImageryTiles {
  readonly request: RequestImagery;
  /** Forgets the faults of a layer. */
  forgive(id: string): void;
}

/** Fetches tiles of online imagery; what keeps them away is said once, by the layer's name. */
export function imageryTiles(limits: FetchLimits = tileLimits): ImageryTiles {
  const faults = new Map<string, number>();
  const fault = (id: string, problem: Problem) => {
    faults.set(id, (faults.get(id) ?? 0) + 1);
    if (session.getState().imageryProblems[id]?.code === problem.code) return;
    session.setState(({ imageryProblems }) => ({
      imageryProblems: { ...imageryProblems, [id]: problem },
    }));
  };
  return {
    async request({ id, url }, signal) {
      if ((faults.get(id) ?? 0) >= mostFaults) throw new ImageryTileMissing(`${id} is at rest`);
      const fetched = await fetchWithin(url, signal, limits);
      if (!fetched.ok) {
        if (fetched.problem.code !== noTile) fault(id, fetched.problem);
        throw new ImageryTileMissing(fetched.problem.code);
      }
      const { bytes, type } = fetched.value;
      let picture: ImageBitmap;
      try {
        picture = await createImageBitmap(new Blob([bytes], { type }));
      } catch {
        // Reads XML: loaded only where something went wrong.
        const { notAPicture } = await import('./imagery-not-picture.ts');
        fault(id, notAPicture(fetched.value));
        throw new ImageryTileMissing('no picture');
      }
      faults.delete(id);
      if (session.getState().imageryProblems[id]) forgetProblem(id);
      return picture;
    },
    forgive(id) {
      faults.delete(id);
      forgetProblem(id);
    },
  };
}

function forgetProblem(id: string): void {
  session.setState(({ imageryProblems: { [id]: _gone, ...rest } }) => ({ imageryProblems: rest }));
}
