import type { PhotoRead } from './photo-worker.ts';

/** Reads the chosen photo in a worker, as the app does, by the browser's own decoder or not. */
const worker = new Worker(new URL('./photo-worker.ts', import.meta.url), { type: 'module' });

function read(natively: boolean): Promise<PhotoRead> {
  const file = document.querySelector('input')!.files![0]!;
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<PhotoRead>) => resolve(data);
    worker.onerror = (event) => reject(new Error(event.message));
    worker.postMessage({ file, natively });
  });
}
Object.assign(globalThis, { readPhoto: read });
