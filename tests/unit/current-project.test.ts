import { beforeEach, describe, expect, it } from 'vitest';
import { markProject, listProjects } from '../../app/document/project-list.ts';
import { planForOpening, projectFileName } from '../../app/document/project-file.ts';
import { projectName } from '../../app/words/project-words.ts';
import { openDocument } from '../../app/document/start.ts';
import { CurrentProject, type Memory } from '../../app/services/current-project.ts';
import { copyReminder } from '../../app/store/copy-state.ts';
import { session } from '../../app/store/session.ts';
import { emptyRawPlan } from '../../geo/plan/raw-plan.ts';
import { apply, ground, settle, stand, TestBrowser } from '../document-rig.ts';
import { valueOf } from '../geotiff-samples.ts';

const first = session.getState();
beforeEach(() => session.setState(first, true));

function memory(recalled: string | null = null): Memory & { last: string | null } {
  return {
    last: recalled,
    recall() {
      return this.last;
    },
    remember(id) {
      this.last = id;
    },
    hadProjects: () => false,
    setHadProjects: () => {},
  };
}

async function store(browser: TestBrowser, id: string, openedAt: number): Promise<void> {
  const plan = await openDocument(id, browser.host());
  apply(plan.document, { features: { [id]: stand(id) }, settings: { siteName: id } });
  await plan.close();
  await markProject(id, { openedAt, createdAt: 5 }, browser.host());
}

describe('what a tab starts with', () => {
  it.each([
    ['the first project of all', [], null, 'plan', true],
    ['what was opened last', ['old', 'new'], null, 'new', false],
    ['what this tab showed, through a reload', ['old', 'new'], 'old', 'old', false],
    ['its own project that is still empty', ['old'], 'mine', 'mine', false],
    ['another one where its own was deleted', ['old', 'gone'], 'gone', 'old', false],
  ] as const)('%s', async (_, stored, recalled, id, isFirst) => {
    const browser = new TestBrowser();
    for (const one of stored) {
      await store(browser, one, browser.now + (one === 'old' ? 10 : 20));
      if (one === 'gone') await markProject(one, { deletedAt: browser.now }, browser.host());
    }
    const started = await CurrentProject.start(memory(recalled), browser.host());
    expect([started.project.id, started.isFirst]).toEqual([id, isFirst]);
    expect(session.getState().projectId).toBe(id);
    await settle();
    await started.project.open.close();
  });

  it('the demo where nothing can be kept, and nothing new where it cannot be read just now', async () => {
    const none = new TestBrowser().host({ indexedDB: undefined });
    expect((await CurrentProject.start(memory(), none)).isFirst).toBe(true);
    const failing = {
      open: () => {
        throw new DOMException('x', 'UnknownError');
      },
    };
    const broken = new TestBrowser().host({ indexedDB: failing as unknown as IDBFactory });
    expect((await CurrentProject.start(memory(), broken)).isFirst).toBe(false);
  });
});

describe('going over to another project', () => {
  async function start() {
    const browser = new TestBrowser();
    await store(browser, 'one', browser.now);
    await store(browser, 'two', browser.now - 1);
    const kept = memory();
    const { project } = await CurrentProject.start(kept, browser.host());
    await settle();
    return { browser, project, kept };
  }

  it('shows the other whole and nothing of the last, whose edits are saved', async () => {
    const { browser, project, kept } = await start();
    apply(project.document, { features: { late: stand('late') } });
    session.setState({ selectedId: 'one', answers: { one: {} }, site: { ground: {} as never } });
    const seen: string[] = [];
    const stop = session.subscribe(({ features }) => seen.push(Object.keys(features).join('+')));
    await project.goTo('two');
    stop();
    expect(seen).not.toContain('one+late+two');
    const { features, selectedId, answers, site, settings, projectId, canUndo } =
      session.getState();
    expect([Object.keys(features), selectedId, answers, site]).toEqual([['two'], null, {}, {}]);
    expect([settings.siteName, projectId, canUndo, kept.last]).toEqual([
      'two',
      'two',
      false,
      'two',
    ]);
    apply(project.document, { features: { more: stand('more') } });
    await project.goTo('one');
    expect(Object.keys(session.getState().features).sort()).toEqual(['late', 'one']);
    await settle();
    expect(valueOf(await listProjects(browser.host())).map((one) => one.featureCount)).toEqual([
      2, 2,
    ]);
    await project.open.close();
  });

  it('waits for the worker to forget, and throws away what it still says of the last', async () => {
    const { project } = await start();
    project.forgetAnswers = async () => {
      expect(session.getState().features).toEqual({});
      session.setState({ answers: { one: {} } });
    };
    await project.goTo('two');
    expect(session.getState().answers).toEqual({});
    // A worker that is gone does not hold the page up.
    project.forgetAnswers = () => Promise.reject(new Error('gone'));
    await project.goTo('one');
    expect(session.getState().projectId).toBe('one');
    await project.open.close();
  });

  it('takes fast wishes one after the other, and ends with the last', async () => {
    const { project } = await start();
    await Promise.all([
      project.goTo('two'),
      project.goTo('one'),
      project.goTo('three'),
      project.goTo('two'),
    ]);
    expect([project.id, Object.keys(session.getState().features)]).toEqual(['two', ['two']]);
    expect(project.isEmpty).toBe(false);
    await project.open.close();
  });

  it('fills a new one before it is shown, and keeps one open that is still being filled', async () => {
    const { browser, project } = await start();
    let finish = () => {};
    const { document } = project;
    project.hold(
      new Promise<void>((resolve) => {
        finish = resolve;
      }),
    );
    await project.goTo('new', (made) => void made.seed({ grounds: { [id]: ground(id) } }));
    expect(Object.keys(session.getState().grounds)).toEqual([id]);
    document.seed({ features: { filled: stand('filled') } });
    finish();
    await settle();
    const behind = await openDocument('one', browser.host());
    expect(Object.keys(behind.document.snapshot.features).sort()).toEqual(['filled', 'one']);
    await behind.close();
    await project.open.close();
  });

  it('does something within another project without showing it', async () => {
    const { project } = await start();
    const done = await project.within('two', ({ document: other }) =>
      other.transact({ settings: { siteName: 'Renamed' } }),
    );
    expect(valueOf(done).ok).toBe(true);
    expect(session.getState().settings.siteName).toBe('one');
    await project.goTo('two');
    expect(session.getState().settings.siteName).toBe('Renamed');
    await project.open.close();
  });
});

const id = 'a'.repeat(64);
const day = 86_400_000;

describe('keep a copy', () => {
  const copy = { edits: 0, copiedEdits: 0, copiedAt: null, createdAt: 0 };
  it.each([
    ['nothing drawn, ever', copy, 400 * day, null],
    ['a day’s work without a copy', { ...copy, edits: 60 }, day, { edits: 60, days: 1 }],
    ['less, and today', { ...copy, edits: 59 }, day, null],
    [
      'one change, a week after the copy',
      { ...copy, edits: 10, copiedEdits: 9, copiedAt: day },
      8 * day,
      { edits: 1, days: 7 },
    ],
    [
      'one change, the day after it',
      { ...copy, edits: 10, copiedEdits: 9, copiedAt: day },
      2 * day,
      null,
    ],
    [
      'all of it in the copy',
      { ...copy, edits: 90, copiedEdits: 90, copiedAt: day },
      90 * day,
      null,
    ],
    ['changes of nobody knows when', { ...copy, edits: 5, createdAt: null }, day, null],
  ])('%s', (_, state, now, said) => {
    expect(copyReminder(state, now)).toEqual(said);
  });
});

describe('project files', () => {
  it('are named so that every file system takes them', () => {
    const noon = new Date(2026, 7, 1, 12).getTime();
    expect(projectFileName('Kite hollow / "north"', noon)).toBe('kite-hollow-north-2026-08-01.zip');
    expect(projectFileName('Büchel Ærø', noon)).toBe('buchel-r-2026-08-01.zip');
    expect(projectFileName('../..', noon)).toBe('site-plan-2026-08-01.zip');
    // A project that nobody named goes by its ground, else by what stands in its place.
    const unnamed = projectName('', 'Home place');
    expect(projectFileName(unnamed, noon)).toBe('home-place-2026-08-01.zip');
    expect(projectFileName(projectName('', undefined), noon)).toBe('unnamed-site-2026-08-01.zip');
    expect(projectName('Kite hollow', 'Home place')).toBe('Kite hollow');
  });

  it('come in with their online imagery switched off', () => {
    const imagery = [{ id: 'a', shown: true }, { id: 'b', shown: false }, 7];
    const { plan, switchedOff } = planForOpening({ ...emptyRawPlan(), settings: { imagery } });
    expect(switchedOff).toBe(1);
    expect(plan.settings.imagery).toEqual([
      { id: 'a', shown: false },
      { id: 'b', shown: false },
      7,
    ]);
  });
});
