import { afterEach, expect, test, vi } from 'vitest';
import { takeWorkerEvents } from '../../app/services/worker-events.ts';
import { clearProject, session } from '../../app/store/session.ts';

/** An edit of a large plan settles hundreds of answers: the page may not draw after each. */

const blank = session.getState();

afterEach(() => {
  vi.useRealTimers();
  session.setState(blank, true);
});

function answer(id: string, areaSquareMeters: number) {
  const value = { value: { areaSquareMeters } } as never;
  return { event: 'feature-answer', name: 'plotGround', id, answer: value } as const;
}

test('the first answer is there at once, the hundred behind it in one step', () => {
  vi.useFakeTimers();
  const take = takeWorkerEvents(() => {});
  const steps: number[] = [];
  const leave = session.subscribe(({ answers }) => steps.push(Object.keys(answers).length));
  for (let i = 0; i < 101; i++) take(answer(`plot-${i}`, i));
  expect(steps).toEqual([1]);
  vi.advanceTimersByTime(100);
  expect(steps).toEqual([1, 101]);
  take({ event: 'feature-answer', name: 'plotGround', id: 'plot-7', answer: null });
  expect(steps).toEqual([1, 101, 100]);
  leave();
});

test('the last word on an answer stands, and that work is done is heard', () => {
  vi.useFakeTimers();
  const take = takeWorkerEvents(() => {});
  take({ event: 'working', share: 0.5, doing: 'filling', key: 'storm' });
  expect(session.getState().working).toEqual({ share: 0.5, doing: 'filling', key: 'storm' });
  take(answer('a', 1));
  take(answer('a', 2));
  take({ event: 'working', share: 1, doing: '', key: '' });
  vi.advanceTimersByTime(100);
  expect(session.getState().answers['a']?.plotGround?.value.areaSquareMeters).toBe(2);
  expect(session.getState().working).toBeNull();
});

test('what was said of a project that is gone is left out, what is said after that is not', () => {
  vi.useFakeTimers();
  const take = takeWorkerEvents(() => {});
  take(answer('a', 1));
  take(answer('b', 2));
  clearProject();
  // Said before the next project has its name: it is of the next one all the same.
  take(answer('c', 3));
  session.setState({ projectId: 'another' });
  vi.advanceTimersByTime(100);
  expect(Object.keys(session.getState().answers)).toEqual(['c']);
});

test('what a stopped worker leaves is there with the answers said before it, and gone when it goes on', () => {
  vi.useFakeTimers();
  const take = takeWorkerEvents(() => {});
  const steps: string[] = [];
  const leave = session.subscribe(({ answers, left }) => steps.push(`${Object.keys(answers).join()} ${left && [...left].join()}`)); // prettier-ignore
  take(answer('a', 1));
  take(answer('b', 2));
  take({ event: 'left', keys: ['storm', 'plantable/a'] });
  vi.advanceTimersByTime(100);
  take({ event: 'left', keys: null });
  vi.advanceTimersByTime(100);
  expect(steps).toEqual(['a null', 'a,b storm,plantable/a', 'a,b null']);
  leave();
});
