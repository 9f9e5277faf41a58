import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import type { PlanChange } from '../document/plan-document.ts';
import type { OpenPlan } from '../document/start.ts';
import type { Services } from '../page/services.ts';
import { session, type Session } from '../store/session.ts';
import { StoppedError, type Asked, type Door } from '../workers/door.ts';
import { boundsMeet, siteBounds } from './bounds.ts';
import type { GroundChoices, GroundOpening } from '../workers/messages.ts';

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

/** Opening grounds and photos: reading, questions one after the other, and into the plan. */
/**
 * The plan with another ground. One that lies elsewhere than the demo is the user's own: the demo's
 * features make way, in the same step, so that one undo brings them back.
 */
function withGround(state: Session, ground: GroundRecord): PlanChange {
  const grounds = { [ground.id]: ground };
  const drawn = siteBounds({ ...state, grounds: {} });
  if (!state.settings.isDemo || !drawn || boundsMeet(drawn, ground.bounds)) {
    return { grounds, settings: { groundId: ground.id } };
  }
  return {
    grounds,
    features: Object.fromEntries(Object.keys(state.features).map((id) => [id, null])),
    settings: { groundId: ground.id, photoId: '', siteName: '', jobNumber: '', isDemo: false },
  };
}

export function openingServices(plan: OpenPlan, door: Door): OpeningServices {
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
    const show = (share: number, doing: string) =>
      session.setState({
        opening: { state: 'reading', share, doing, name, stop: () => asked.stop() },
      });
    const asked = subject.ask(choices, show);
    show(0, 'reading');
    try {
      take(await asked.answer, name);
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
    const change: PlanChange =
      opening.kind === 'opened'
        ? withGround(session.getState(), opening.ground)
        : {
            photos: { [opening.photo.id]: opening.photo },
            settings: { photoId: opening.photo.id },
          };
    const done = plan.document.transact(change);
    if (!done.ok) session.setState({ problem: done.problem });
  }

  return {
    openFiles(files) {
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
