import { createRoot } from 'react-dom/client';
import { Page } from './page/page.tsx';
import type { Services } from './page/services.ts';
import { browserMemory, CurrentProject } from './services/current-project.ts';
import { bringInService } from './services/bring-in-service.ts';
import { startDemo } from './services/demo.ts';
import { handsServices } from './services/hands-service.ts';
import { imageryServices } from './services/imagery-service.ts';
import { imageryTiles } from './services/imagery-tiles.ts';
import { windServices } from './services/wind-service.ts';
import { waterServices } from './services/water-service.ts';
import { deskServices } from './services/desk-service.ts';
import { mapService } from './services/map-service.ts';
import { openingServices } from './services/opening-service.ts';
import { planServices } from './services/plan-service.ts';
import { projectsGone, projectsService } from './services/projects-service.ts';
import { takeWorkerEvents } from './services/worker-events.ts';
import { selectionServices } from './services/selection-service.ts';
import { shapeServices } from './services/shape-service.ts';
import { syncWorker } from './services/worker-sync.ts';
import { session } from './store/session.ts';
import { createDoor } from './workers/door.ts';

/** Starts the page: the plan from this browser, the worker that computes, then what is seen. */
async function start(): Promise<void> {
  const mapCode = import('../layers/map-controller.ts');
  const worker = new Worker(new URL('./workers/ground-worker.ts', import.meta.url), {
    type: 'module',
  });
  const door = createDoor(
    worker,
    takeWorkerEvents((...said) => map.tilesChanged(...said)),
  );
  const imagery = imageryTiles();
  const map = mapService(door, () => mapCode.then((module) => module.createMap), imagery.request);
  const memory = browserMemory();
  const { project, isFirst } = await CurrentProject.start(memory);
  syncWorker(door, (problem) => session.setState({ problem }));
  project.forgetAnswers = () => door.ask('forgetAnswers', null).answer;
  const projects = projectsService({
    project,
    door,
    memory,
    fillDemo: (plan) => startDemo(plan, door),
    dropGesture: () => map.services.cancelDrawing(),
    fitToSite: () => map.services.fitToSite(),
  });
  const { openCopy, startWith } = projects;
  const drawings = bringInService({
    plan: project,
    door,
    openFiles: (files) => opening.openFiles(files),
    startWith,
    fitTo: map.fitTo,
  });
  const opening = openingServices({
    plan: project,
    door,
    openCopy,
    drawings: drawings.reading,
    startWith,
  });
  const services: Services = {
    ...map.services,
    ...planServices(project, door),
    ...selectionServices(project),
    ...shapeServices(project, door, map.drawShape),
    ...waterServices(project, door, map.drawShape),
    ...windServices(project, door),
    ...deskServices(project, map.drawShape),
    ...opening,
    ...drawings.services,
    ...imageryServices(project, imagery),
    ...projects.services,
    ...handsServices(),
  };
  createRoot(document.getElementById('page')!).render(<Page services={services} />);
  // For scripts that drive the page from outside: the read model, not a way in.
  Object.assign(globalThis, { assart: { session } });
  if (!isFirst) return;
  services.startDemo();
  if (memory.hadProjects()) session.setState({ notice: projectsGone });
}

void start();
