import type { BroughtIn } from '../../geo/formats/vector/bring-in.ts';
import { namesIn } from '../../geo/plan/free-name.ts';
import type { PlanChange } from '../document/plan-document.ts';
import { downloadFile, projectFileName } from '../document/project-file.ts';
import type { Services } from '../page/services.ts';
import * as model from '../store/bring-in.ts';
import { selectAll } from '../store/selection.ts';
import { session, type Notice } from '../store/session.ts';
import { leftOutNotice, ownProjectOfDrawing } from '../words/bring-in-words.ts';
import { outlineProblem } from '../words/outline-words.ts';
import { projectName } from '../words/project-words.ts';
import { StoppedError, type Asked, type Door } from '../workers/door.ts';
import type { DrawingFormat, DrawingOpening } from '../workers/messages.ts';
import type { Bounds } from '../../layers/raster-layers.ts';
import { boundsOfFeatures, siteBounds } from './bounds.ts';
import { broughtNames } from './brought-names.ts';
import type { PlanAtHand } from './current-project.ts';
import { reading, type Reading, type Said } from './opening-queue.ts';
import { pickFiles } from './pick-files.ts';

type BringInServices = Pick<
  Services,
  | 'pickDrawings'
  | 'takeItems'
  | 'setItemKind'
  | 'setItemClean'
  | 'nameItemsFrom'
  | 'keepPersonal'
  | 'bringIn'
  | 'leaveBringIn'
  | 'saveDrawings'
>;

export interface BringInTools {
  readonly plan: PlanAtHand;
  readonly door: Door;
  readonly openFiles: (files: readonly File[]) => void;
  readonly startWith: (change: PlanChange, why: Notice) => Promise<void>;
  readonly fitTo: (bounds: Bounds) => void;
}

export interface BringInService {
  readonly services: BringInServices;
  readonly reading: (files: readonly File[], name: string) => Reading;
}

const accepted = '.geojson,.json,.kml,.kmz,.gpx,.zip,.shp,.shx,.dbf,.prj,.cpg';

const endings: Readonly<Record<DrawingFormat, string>> = {
  geojson: '.geojson',
  kml: '.kml',
  gpx: '.gpx',
  shapefile: '.zip',
};

/** Drawings from files: read, looked over, chosen, brought in as one undo step; and saved. */
export function bringInService(tools: BringInTools): BringInService {
  const { plan, door } = tools;
  let source: { files: readonly File[]; said: Said } | null = null;
  let isCleaning = false;

  const update = (change: (bring: model.BringIn) => model.BringIn): void => {
    session.setState(({ bringing }) => (bringing ? { bringing: change(bringing) } : {}));
  };
  session.subscribe((now, before) => {
    if (now.bringing !== before.bringing) void cleanTracks();
  });

  /** Cleans what is taken, one track after the other, so that it is seen before it is brought in. */
  async function cleanTracks(): Promise<void> {
    if (isCleaning) return;
    isCleaning = true;
    try {
      for (;;) {
        const { bringing } = session.getState();
        const index = bringing && model.nextToClean(bringing);
        if (!bringing || index === null) return;
        const { kind, clean } = bringing.picks[index]!;
        const cleaned = await door.ask('cleanTrack', { index, kind, clean: clean! }).answer;
        session.setState(({ bringing: now }) => {
          if (now?.look !== bringing.look) return {};
          return {
            bringing: cleaned
              ? model.setCleaned(now, index, { kind, clean }, cleaned)
              : model.setClean(now, index, null),
          };
        });
      }
    } catch (error) {
      told(error);
    } finally {
      isCleaning = false;
    }
  }

  /** Long work shown as an opening is, and stopped as one; null where it was stopped or failed. */
  async function withProgress<T>(
    ask: (tell: (share: number, doing: string) => void) => Asked<T>,
    isSaving = false,
  ): Promise<T | null> {
    const name = session.getState().bringing?.name ?? 'Drawings';
    const stop = () => asked.stop();
    const tell = (share: number, doing: string) =>
      session.setState({ opening: { state: 'reading', share, doing, name, stop, isSaving } });
    const asked = ask(tell);
    tell(0, isSaving ? 'Packing' : 'Reading');
    try {
      return await asked.answer;
    } catch (error) {
      told(error);
      return null;
    } finally {
      session.setState({ opening: null });
    }
  }

  function told(error: unknown): void {
    if (error instanceof StoppedError) return;
    session.setState({
      problem: {
        code: 'bring-in-failed',
        what: error instanceof Error ? error.message : String(error),
        wayOut: 'Reload the page and open the file again. What you drew is saved.',
      },
    });
  }

  function show(name: string, { look }: Extract<DrawingOpening, { kind: 'opened' }>): void {
    const state = session.getState();
    const open = { site: siteBounds(state), isDemo: state.settings.isDemo };
    session.setState({ bringing: model.beginBringIn(name, look, open), problem: null });
    tools.fitTo(look.bounds);
  }

  async function readWithPersonal(keep: boolean): Promise<void> {
    if (!source) return;
    const { files, said } = source;
    const opening = await withProgress((tell) =>
      door.ask('openDrawings', { files, choices: { ...said, keepPersonal: keep } }, tell),
    );
    if (opening?.kind === 'opened') update((bring) => model.readAnew(bring, opening.look, keep));
    else if (opening?.kind === 'refused') session.setState({ problem: opening.problem });
  }

  async function bringInNow(): Promise<void> {
    const { bringing, settings } = session.getState();
    if (!bringing) return;
    const picks = model.chosen(bringing);
    if (picks.length === 0) return;
    const brought = await withProgress((tell) => door.ask('bringIn', { picks }, tell));
    if (!brought) return;
    if (bringing.where === 'elsewhere-than-demo') {
      await tools.startWith({ settings: { units: settings.units } }, ownProjectOfDrawing);
    }
    leave();
    put(brought);
  }

  function put({ features, leftOut, faultyIds }: BroughtIn): void {
    const named = broughtNames(features, namesIn(session.getState().features));
    const change = Object.fromEntries(named.map((feature) => [feature.id, feature]));
    const done = plan.document.transact({ features: change });
    if (!done.ok) return session.setState({ problem: done.problem });
    const faulty = named.find(({ id }) => id === faultyIds[0]);
    const ids = named.map(({ id }) => id);
    session.setState({
      // What needs mending is in the panel first.
      ...selectAll(faulty ? [faulty.id, ...ids.filter((id) => id !== faulty.id)] : ids),
      problem: faulty ? outlineProblem(faulty) : null,
      ...(leftOut.length > 0 ? { notice: leftOutNotice(leftOut) } : {}),
    });
    const bounds = boundsOfFeatures(named);
    if (bounds) tools.fitTo(bounds);
  }

  function leave(): void {
    source = null;
    session.setState({ bringing: null });
    void door.ask('leaveDrawings', null);
  }

  return {
    reading(files, name) {
      let last: Said = {};
      return reading<DrawingOpening>({
        name,
        ask(said, tell) {
          last = { ...nearOf(), ...said };
          return door.ask('openDrawings', { files, choices: last }, tell);
        },
        take(opened) {
          source = { files, said: last };
          show(name, opened);
        },
      });
    },
    services: {
      pickDrawings: () => pickFiles(accepted, tools.openFiles),
      takeItems: (which, taken) => update((bring) => model.take(bring, which, taken)),
      setItemKind: (which, kind) => update((bring) => model.setKind(bring, which, kind)),
      setItemClean: (index, clean) => update((bring) => model.setClean(bring, index, clean)),
      async nameItemsFrom(group, column) {
        const { file, layer } = session.getState().bringing?.look.groups[group] ?? {};
        if (file === undefined || layer === undefined) return;
        const names =
          column === '' ? {} : await door.ask('namesFrom', { file, layer, column }).answer;
        update((bring) => model.setNames(bring, group, column, names));
      },
      keepPersonal: (keep) => void readWithPersonal(keep),
      bringIn: () => void bringInNow(),
      leaveBringIn: leave,
      async saveDrawings(format, forOldReceivers) {
        const { features, settings, grounds } = session.getState();
        const title = projectName(settings.siteName, grounds[settings.groundId]?.name);
        const order = { features: Object.values(features), format, title, forOldReceivers };
        const file = await withProgress(() => door.ask('writeDrawings', order), true);
        if (!file) return;
        const name = projectFileName(`${title} drawings`, Date.now());
        downloadFile(file, name.replace(/\.zip$/, endings[format]));
      },
    },
  };
}

/** Middle of the ground in use, to tell exchanged coordinates by; the demo's says nothing. */
function nearOf(): Pick<Said, 'near'> {
  const { grounds, settings } = session.getState();
  const bounds = settings.isDemo ? undefined : grounds[settings.groundId]?.bounds;
  if (!bounds) return {};
  return { near: [(bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2] };
}
