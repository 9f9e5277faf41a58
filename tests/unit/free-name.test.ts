import { beforeEach, expect, it } from 'vitest';
import { broughtNames } from '../../app/services/brought-names.ts';
import { deskServices } from '../../app/services/desk-service.ts';
import { newFeature } from '../../app/services/plan-service.ts';
import { windServices } from '../../app/services/wind-service.ts';
import { session } from '../../app/store/session.ts';
import { kindWords } from '../../app/words/kind-words.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { nameAfter, namesIn, nextName } from '../../geo/plan/free-name.ts';
import type { Kind } from '../../geo/plan/kinds.ts';
import { neededFor, placeFrom, standOf } from '../answers-rig.ts';
import { demoAnswers } from '../demo-answers.ts';

// What the tool names is told apart by its name: in the table, in the lists, on the sheet.

/** A plan that takes every change at once. */
const plan = {
  document: {
    transact({ features }: { features: Readonly<Record<string, PlanFeature | null>> }) {
      const next = { ...session.getState().features, ...features };
      const kept = Object.entries(next).filter(([, one]) => one !== null);
      session.setState({ features: Object.fromEntries(kept) as Record<string, PlanFeature> });
      return { ok: true };
    },
  },
} as unknown as Parameters<typeof deskServices>[0];
const nobody = () => Promise.resolve(null);
const desk = deskServices(plan, nobody);

function twice(): string[] {
  const names = Object.values(session.getState().features).map(({ name }) => name);
  return names.filter((name, i) => names.indexOf(name) !== i);
}

beforeEach(() => session.setState({ features: {}, answers: {} }));

it('goes on from the number that a name has, or puts one behind', () => {
  const names = new Set(['Plot A', 'Brush pile 1', 'Brush pile 2', 'Stand, Plot 1', '7']);
  expect(nextName('Plot B', names)).toBe('Plot B');
  expect(nextName('Plot A', names)).toBe('Plot A 2');
  expect(nextName('Brush pile 1', names)).toBe('Brush pile 3');
  expect(nextName('7', names)).toBe('7 2');
  expect(nextName('', names)).toBe('');
  expect(nameAfter('Stand, Plot 1', names)).toBe('Stand, Plot 1 (2)');
  const long = 'a'.repeat(200);
  expect(nextName(long, new Set([long])).length).toBeLessThanOrEqual(200);
});

it('names every kind that is drawn anew, whatever was there', () => {
  for (const kind of Object.keys(kindWords) as Kind[]) {
    const taken = standOf('x', placeFrom([-93, 36], 0, 0));
    session.setState({ features: { x: { ...taken, name: `${kindWords[kind].one} 1` } } });
    for (const geometry of shapes) {
      const made = newFeature(kind, geometry, 'new');
      if (made.ok) expect(made.value.name).toBe(`${kindWords[kind].one} 2`);
    }
  }
});
const at = (x: number, y: number) => placeFrom([-93, 36], x, y);
const shapes = [
  { type: 'Point', coordinates: at(0, 0) },
  { type: 'LineString', coordinates: [at(0, 0), at(9, 0)] },
  { type: 'Polygon', coordinates: [[at(0, 0), at(9, 0), at(9, 9), at(0, 0)]] },
] as const;

it('a way laid out, laid out again, a lane kept and a stand set have names of their own', async () => {
  const { features } = await demoAnswers([], {}, 'ground.tif', neededFor('clearingWays'));
  const plot = { ...standOf('A', at(0, 0)), kind: 'plot', name: 'Bench plot' } as PlanFeature;
  const drawn = { ...standOf('p', at(0, 0)), kind: 'heap', name: 'Brush pile 1' } as PlanFeature;
  const stand = { ...standOf('s', at(0, 0)), name: 'A1' };
  session.setState({
    features: { A: plot, p: drawn, s: stand },
    answers: { A: { clearingWays: features['A']!.clearingWays! } },
  });
  for (const way of ['heaps', 'heaps', 'edge-berm', 'edge-berm', 'centre-windrow'] as const) {
    desk.layWay('A', way, false);
  }
  for (let i = 0; i < 2; i++) {
    desk.keepLane('s', [at(0, 0), at(9, 0)]);
    windServices(plan, {} as never).layStand('A', { at: at(5, 5), facingDegrees: 90 } as never);
  }
  const names = namesIn(session.getState().features);
  expect(twice()).toEqual([]);
  expect(names).toContain('Edge berm');
  expect(names).toContain('Edge berm 2');
  expect(names).toContain('Way in to A1 (2)');
  expect(names).toContain('Bench plot stand 2');
});

it('what is brought in is told from what is there and from each other', () => {
  const one = standOf('a', at(0, 0));
  const named = (...names: string[]) => names.map((name, i) => ({ ...one, id: `${i}`, name }));
  const made = broughtNames(named('', 'Oak', 'Stand 1', '', 'Oak', 'West'), new Set(['West', 'Stand 2'])); // prettier-ignore
  expect(made.map(({ name }) => name)).toEqual(['Stand 3', 'Oak', 'Stand 1', 'Stand 4', 'Oak 2', 'West 2']); // prettier-ignore
  session.setState({ features: Object.fromEntries(made.map((feature) => [feature.id, feature])) });
  const next = newFeature('stand', { type: 'Point', coordinates: at(1, 1) }, 'new');
  expect(next.ok && next.value.name).toBe('Stand 2');
});
