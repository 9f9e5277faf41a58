import { setWorkerUrl } from 'maplibre-gl';
import workerUrl from 'maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url';

// The bundler does not emit the library's worker by itself, and without it the map stays blank.
// This is the only file that names it; it must run before the first map.
setWorkerUrl(workerUrl);
