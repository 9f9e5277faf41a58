import { expect, test } from 'vitest';
import { partOf, type Work } from '../../geo/work.ts';

/** Work put together of works shows one share, which never goes back. */

function* steps(shares: readonly number[], value: string): Work<string> {
  for (const share of shares) yield { share, doing: 'its own words' };
  return value;
}

test('shares of a part lie between two of the whole, and do not go back with the part', () => {
  const work = partOf(steps([0, 0.5, 1, 0.25, 1], 'made'), 0.2, 0.4);
  const seen: number[] = [];
  let step = work.next();
  for (; !step.done; step = work.next()) seen.push(step.value.share);
  expect(step.value).toBe('made');
  // By hand: 0.2 + 0.2 times the share, the greatest so far.
  [0.2, 0.3, 0.4, 0.4, 0.4].forEach((share, i) => expect(seen[i]).toBeCloseTo(share, 12));
});

test('the words of the whole stand in place of those of the part when they are given', () => {
  expect(partOf(steps([0], ''), 0, 1).next().value).toMatchObject({ doing: 'its own words' });
  expect(partOf(steps([0], ''), 0, 1, 'the whole').next().value).toMatchObject({
    doing: 'the whole',
  });
});
