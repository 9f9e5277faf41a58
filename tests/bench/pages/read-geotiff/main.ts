import type { ReadTimes } from './reader-worker.ts';

/** The page of the GeoTIFF bench: hands the chosen file to a worker, as the app does. */
const worker = new Worker(new URL('./reader-worker.ts', import.meta.url), { type: 'module' });

function read(): Promise<ReadTimes> {
  const file = document.querySelector('input')!.files![0]!;
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<ReadTimes>) => resolve(data);
    worker.onerror = (event) => reject(new Error(event.message));
    worker.postMessage(file);
  });
}
Object.assign(globalThis, { readGeoTiff: read });
