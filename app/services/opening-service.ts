import type { SortedFiles } from '../../geo/formats/sort-files.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import type { PlanChange } from '../document/plan-document.ts';
import type { Services } from '../page/services.ts';
import { session, type Notice, type Session } from '../store/session.ts';
import type { Door } from '../workers/door.ts';
import type { GroundOpening } from '../workers/messages.ts';
import { boundsMeet, siteBounds } from './bounds.ts';
import type { PlanAtHand } from './current-project.ts';
import { openingQueue, reading, type Reading } from './opening-queue.ts';

type OpeningServices = Pick<
  Services,
  | 'openFiles'
  | 'openAddress'
  | 'answerQuestion'
  | 'leaveOpening'
  | 'describeGround'
  | 'findCrs'
  | 'placeIn'
  | 'stopWork'
  | 'goOnWork'
>;

export interface OpeningTools {
  readonly plan: PlanAtHand;
  readonly door: Door;
  /** Opens a project file; false where it is none. */
  readonly openCopy: (file: File) => Promise<boolean>;
  /** How drawings are read and taken. */
  readonly drawings: (files: readonly File[], name: string) => Reading;
  /** A new project that begins with this, and why it is one. */
  readonly startWith: (change: PlanChange, why: Notice) => Promise<void>;
}

/** Whether a ground is the user's own, elsewhere than the demo: the two do not belong together. */
function liesElsewhere(state: Session, ground: GroundRecord): boolean {
  const drawn = siteBounds({ ...state, grounds: {} });
  return state.settings.isDemo && drawn !== null && !boundsMeet(drawn, ground.bounds);
}

const ownProject: Notice = {
  what: 'Your ground lies elsewhere than the demo, so it has a project of its own.',
  lines: ['The demo is still there, under Projects.'],
};

/** Opening projects, grounds, photos and drawings: each file goes its own way. */
export function openingServices(tools: OpeningTools): OpeningServices {
  const { plan, door } = tools;
  const queue = openingQueue(plan);

  async function openFiles(files: readonly File[]): Promise<void> {
    let sorted: SortedFiles;
    try {
      sorted = await door.ask('sortFiles', { files }).answer;
    } catch {
      // The reader says what is wrong with it.
      sorted = { projects: [], drawings: [], grounds: files.map((_, i) => i) };
    }
    const of = (places: readonly number[]) => places.map((place) => files[place]!);
    const [projects, grounds, drawings] = [
      of(sorted.projects),
      of(sorted.grounds),
      of(sorted.drawings),
    ];
    if (projects.length > 1) {
      session.setState({
        opening: {
          state: 'refused',
          name: `${projects.length} projects`,
          problem: {
            code: 'projects-several',
            what: 'There are several projects among these files.',
            wayOut: 'Open one project at a time.',
          },
        },
      });
      return;
    }
    // What else was dropped goes into the project that it came with.
    if (projects.length === 1) await tools.openCopy(projects[0]!);
    queue.begin([
      ...(grounds.length > 0 ? [groundReading(grounds)] : []),
      ...(drawings.length > 0 ? [tools.drawings(drawings, nameOf(drawings))] : []),
    ]);
  }

  function groundReading(files: readonly File[]): Reading {
    return reading<GroundOpening>({
      name: nameOf(files),
      ask: (choices, tell) => door.ask('openFiles', { files, choices }, tell),
      take: takeGround,
    });
  }

  async function takeGround(
    opening: Extract<GroundOpening, { kind: 'opened' | 'photo' }>,
  ): Promise<void> {
    if (opening.kind === 'opened' && liesElsewhere(session.getState(), opening.ground)) {
      const { units } = session.getState().settings;
      const { id } = opening.ground;
      await tools.startWith(
        { grounds: { [id]: opening.ground }, settings: { groundId: id, units } },
        ownProject,
      );
      return;
    }
    const change: PlanChange =
      opening.kind === 'opened'
        ? {
            grounds: { [opening.ground.id]: opening.ground },
            settings: { groundId: opening.ground.id },
          }
        : {
            photos: { [opening.photo.id]: opening.photo },
            settings: { photoId: opening.photo.id },
          };
    const done = plan.document.transact(change);
    if (!done.ok) session.setState({ problem: done.problem });
  }

  return {
    openFiles: (files) => void openFiles(files),
    openAddress: (url) =>
      queue.begin([
        reading<GroundOpening>({
          name: url,
          ask: (choices, tell) => door.ask('openAddress', { url, choices }, tell),
          take: takeGround,
        }),
      ]),
    answerQuestion: (said) => queue.answer(said),
    leaveOpening: () => queue.leave(),
    describeGround(id, facts) {
      const ground = session.getState().grounds[id];
      if (!ground) return;
      const done = plan.document.transact({ grounds: { [id]: { ...ground, ...facts } } });
      if (!done.ok) session.setState({ problem: done.problem });
    },
    placeIn: (epsg, x, y) => door.ask('placeIn', { epsg, x, y }).answer,
    findCrs: (text) => door.ask('findCrs', { text }).answer,
    stopWork() {
      const { opening } = session.getState();
      if (opening?.state === 'reading') return opening.stop();
      void door.ask('stopAnswers', { stop: true });
    },
    goOnWork() {
      void door.ask('stopAnswers', { stop: false });
    },
  };
}

function nameOf(files: readonly File[]): string {
  return files.length === 1 ? files[0]!.name : `${files.length} files`;
}
