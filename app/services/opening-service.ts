import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import type { PlanChange } from '../document/plan-document.ts';
import type { Services } from '../page/services.ts';
import { session, type Notice, type Session } from '../store/session.ts';
import { StoppedError, type Asked, type Door } from '../workers/door.ts';
import { boundsMeet, siteBounds } from './bounds.ts';
import type { GroundChoices, GroundOpening } from '../workers/messages.ts';
import type { PlanAtHand } from './current-project.ts';

type OpeningServices = Pick<
  Services,
  | 'openFiles'
  | 'openAddress'
  | 'answerQuestion'
  | 'leaveOpening'
  | 'describeGround'
  | 'findCrs'
  | 'stopWork'
  | 'goOnWork'
>;

/** What is being opened: files or an address, and what the user has said of it so far. */
interface Subject {
  readonly name: string;
  readonly ask: (
    choices: GroundChoices,
    onProgress: (share: number, doing: string) => void,
  ) => Asked<GroundOpening>;
}

export interface OpeningTools {
  readonly plan: PlanAtHand;
  readonly door: Door;
  /** Opens a project file; false where it is none. */
  readonly openCopy: (file: File) => Promise<boolean>;
  /** A new project that begins with this, and why it is one. */
  readonly startWith: (change: PlanChange, why: Notice) => void;
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

/** Opening projects, grounds and photos: reading, questions one after the other, into the plan. */
export function openingServices({
  plan,
  door,
  openCopy,
  startWith,
}: OpeningTools): OpeningServices {
  let subject: Subject | null = null;
  let choices: GroundChoices = {};

  function begin(next: Subject): void {
    subject = next;
    choices = {};
    void read();
  }

  async function read(): Promise<void> {
    if (!subject) return;
    const { name } = subject;
    const { document } = plan;
    const show = (share: number, doing: string) =>
      session.setState({
        opening: { state: 'reading', share, doing, name, stop: () => asked.stop() },
      });
    const asked = subject.ask(choices, show);
    show(0, 'reading');
    try {
      const opening = await asked.answer;
      // Another project has come onto the screen meanwhile.
      if (plan.document !== document) return;
      take(opening, name);
    } catch (error) {
      subject = null;
      if (error instanceof StoppedError) return session.setState({ opening: null });
      session.setState({
        opening: {
          state: 'refused',
          name,
          problem: {
            code: 'opening-failed',
            what: error instanceof Error ? error.message : String(error),
            wayOut: 'Reload the page and open it again. What you drew is saved.',
          },
        },
      });
    }
  }

  function take(opening: GroundOpening, name: string): void {
    if (opening.kind === 'ask') {
      session.setState({ opening: { state: 'asking', opening, name } });
      return;
    }
    subject = null;
    if (opening.kind === 'refused') {
      session.setState({ opening: { state: 'refused', problem: opening.problem, name } });
      return;
    }
    session.setState({ opening: null });
    if (opening.kind === 'opened' && liesElsewhere(session.getState(), opening.ground)) {
      const { units } = session.getState().settings;
      const { id } = opening.ground;
      startWith(
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
    async openFiles(files) {
      if (files.length === 1 && (await openCopy(files[0]!))) return;
      const name = files.length === 1 ? files[0]!.name : `${files.length} files`;
      begin({ name, ask: (said, tell) => door.ask('openFiles', { files, choices: said }, tell) });
    },
    openAddress(url) {
      begin({
        name: url,
        ask: (said, tell) => door.ask('openAddress', { url, choices: said }, tell),
      });
    },
    answerQuestion(said) {
      choices = { ...choices, ...said };
      void read();
    },
    leaveOpening() {
      subject = null;
      session.setState({ opening: null });
    },
    describeGround(id, facts) {
      const ground = session.getState().grounds[id];
      if (!ground) return;
      const done = plan.document.transact({ grounds: { [id]: { ...ground, ...facts } } });
      if (!done.ok) session.setState({ problem: done.problem });
    },
    findCrs: (text) => door.ask('findCrs', { text }).answer,
    stopWork() {
      const { opening } = session.getState();
      if (opening?.state === 'reading') return opening.stop();
      session.setState({ answersStopped: true, working: null });
      void door.ask('stopAnswers', { stop: true });
    },
    goOnWork() {
      session.setState({ answersStopped: false });
      void door.ask('stopAnswers', { stop: false });
    },
  };
}
