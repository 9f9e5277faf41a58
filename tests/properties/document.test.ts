import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PlanDocument, type PlanSnapshot } from '../../app/document/plan-document.ts';
import { openDocument, type OpenPlan } from '../../app/document/start.ts';
import { anyChange, apply, canonical, settle, stand, TestBrowser } from '../document-rig.ts';
import * as Y from 'yjs';

const seed = 20260729;

/** Everything that undo may touch, by map and key, as text. */
function keyed(snapshot: PlanSnapshot): Map<string, string> {
  const { features, settings, grounds } = snapshot;
  return new Map(
    Object.entries({ features, settings, grounds }).flatMap(([map, values]) =>
      Object.entries(values).map(([key, value]) => [`${map}/${key}`, JSON.stringify(value)]),
    ),
  );
}

function differences(before: Map<string, string>, after: Map<string, string>): string[] {
  const keys = new Set([...before.keys(), ...after.keys()]);
  return [...keys].filter((key) => before.get(key) !== after.get(key));
}

describe('the document', () => {
  it('goes back through 200 edits to the first plan and forward again to the last', () => {
    fc.assert(
      fc.property(fc.array(anyChange, { minLength: 200, maxLength: 200 }), (changes) => {
        const plan = new PlanDocument(1);
        const older = new PlanDocument(2);
        apply(older, { features: { a: stand('a', 'from before'), z: stand('z') } });
        Y.applyUpdate(plan.doc, Y.encodeStateAsUpdate(older.doc));
        const states = [canonical(plan.snapshot)];
        for (const change of changes) {
          if (apply(plan, change)) states.push(canonical(plan.snapshot));
        }
        for (let i = states.length - 2; i >= 0; i--) {
          expect(plan.undo()).toBe(true);
          if (canonical(plan.snapshot) !== states[i]) throw new Error(`undo to step ${i} differs`);
        }
        expect(plan.canUndo || plan.undo()).toBe(false);
        for (let i = 1; i < states.length; i++) {
          expect(plan.redo()).toBe(true);
          if (canonical(plan.snapshot) !== states[i]) throw new Error(`redo to step ${i} differs`);
        }
        expect(plan.canRedo || plan.redo()).toBe(false);
      }),
      { seed, numRuns: 10 },
    );
  });

  it('undone wholly, leaves every key as the other tab last left it, or else as it was at first', () => {
    const turn = fc.record({ tab: fc.constantFrom('A', 'B'), change: anyChange });
    fc.assert(
      fc.property(fc.array(turn, { minLength: 60, maxLength: 60 }), (turns) => {
        const a = new PlanDocument(1);
        const b = new PlanDocument(2);
        a.doc.on('update', (update, origin) => origin !== 'B' && Y.applyUpdate(b.doc, update, 'A'));
        b.doc.on('update', (update, origin) => origin !== 'A' && Y.applyUpdate(a.doc, update, 'B'));
        const expected = keyed(a.snapshot);
        for (const { tab, change } of turns) {
          const before = keyed(a.snapshot);
          apply(tab === 'A' ? a : b, change);
          const after = keyed(a.snapshot);
          if (tab === 'A') continue;
          for (const key of differences(before, after)) {
            const value = after.get(key);
            if (value === undefined) expected.delete(key);
            else expected.set(key, value);
          }
        }
        while (a.undo());
        expect(differences(expected, keyed(a.snapshot))).toEqual([]);
        expect(canonical(b.snapshot)).toBe(canonical(a.snapshot));
      }),
      { seed, numRuns: 40 },
    );
  });
});

describe('tabs', () => {
  const step = fc.oneof(
    { weight: 8, arbitrary: fc.record({ tab: fc.nat(3), change: anyChange }) },
    { weight: 2, arbitrary: fc.record({ tab: fc.nat(3), undo: fc.boolean() }) },
    { weight: 2, arbitrary: fc.record({ wait: fc.integer({ min: 1, max: 6 }) }) },
    { weight: 1, arbitrary: fc.record({ open: fc.constant(true) }) },
    { weight: 1, arbitrary: fc.record({ close: fc.nat(3) }) },
  );

  type Step = typeof step extends fc.Arbitrary<infer T> ? T : never;

  /** Runs the steps in up to four tabs of one browser, and ends when all is quiet. */
  async function live(browser: TestBrowser, steps: Step[]): Promise<OpenPlan[]> {
    const tabs = [await openDocument('plan', browser.host())];
    for (const next of steps) {
      if ('wait' in next) await settle(next.wait);
      else if ('open' in next) {
        if (tabs.length < 4) tabs.push(await openDocument('plan', browser.host()));
      } else if ('close' in next) {
        if (tabs.length > 1) await tabs.splice(next.close % tabs.length, 1)[0]!.close();
      } else {
        const { document } = tabs[next.tab % tabs.length]!;
        if ('change' in next) apply(document, next.change);
        else if (next.undo) document.undo();
        else document.redo();
      }
    }
    tabs.push(await openDocument('plan', browser.host()));
    await settle();
    return tabs;
  }

  async function expectEqualAndStored(browser: TestBrowser, tabs: OpenPlan[]): Promise<void> {
    const first = canonical(tabs[0]!.document.snapshot);
    for (const { document } of tabs) expect(canonical(document.snapshot)).toBe(first);
    await Promise.all(tabs.map((tab) => tab.close()));
    const again = await openDocument('plan', browser.host());
    expect(canonical(again.document.snapshot)).toBe(first);
    await again.close();
  }

  it('end equal after any interleaving, late joiners included, and so does what is stored', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { maxLength: 40 }), async (steps) => {
        const browser = new TestBrowser();
        await expectEqualAndStored(browser, await live(browser, steps));
      }),
      { seed, numRuns: 60 },
    );
  });

  it('end equal when messages were lost, once each has been seen again', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(step, { maxLength: 30 }),
        fc.infiniteStream(fc.nat(3)),
        async (steps, dice) => {
          const browser = new TestBrowser();
          browser.lose = () => dice.next().value === 0;
          const tabs = await live(browser, steps);
          browser.lose = () => false;
          for (const { provider } of tabs) provider.wake();
          await settle();
          await expectEqualAndStored(browser, tabs);
        },
      ),
      { seed, numRuns: 40 },
    );
  });
});
