import { createRoot } from 'react-dom/client';
import { openDocument } from './document/start.ts';
import { Page } from './page/page.tsx';
import type { Services } from './page/services.ts';
import { startDemo } from './services/demo.ts';
import { imageryServices } from './services/imagery-service.ts';
import { imageryTiles } from './services/imagery-tiles.ts';
import { mapService } from './services/map-service.ts';
import { openingServices } from './services/opening-service.ts';
import { planServices } from './services/plan-service.ts';
import { takeWorkerEvent } from './services/worker-events.ts';
import { syncWorker } from './services/worker-sync.ts';
import { bindDocument } from './store/bind-document.ts';
import { session } from './store/session.ts';
import { createDoor } from './workers/door.ts';

/** Starts the page: the plan from this browser, the worker that computes, then what is seen. */
async function start(): Promise<void> {
  const mapCode = import('../layers/map-controller.ts');
  const worker = new Worker(new URL('./workers/ground-worker.ts', import.meta.url), {
    type: 'module',
  });
  const door = createDoor(worker, (event) => takeWorkerEvent(event, map.tilesChanged));
  const imagery = imageryTiles();
  const map = mapService(door, () => mapCode.then((module) => module.createMap), imagery.request);
  const plan = await openDocument('plan');
  bindDocument(plan);
  syncWorker(door, (problem) => session.setState({ problem }));
  const demo = () => void startDemo(plan, door);
  const services: Services = {
    ...map.services,
    ...planServices(plan, door),
    ...openingServices(plan, door),
    ...imageryServices(plan, imagery),
    startDemo: demo,
  };
  createRoot(document.getElementById('page')!).render(<Page services={services} />);
  // For scripts that drive the page from outside: the read model, not a way in.
  Object.assign(globalThis, { assart: { session } });
  const { features, grounds } = plan.document.snapshot;
  // A blocked storage looks empty at first: the demo must not be mixed into what comes after it.
  const empty = Object.keys(features).length === 0 && Object.keys(grounds).length === 0;
  if (empty && plan.provider.loaded) demo();
}

void start();
