import { solve } from 'yalps';

/** So much of a source goes to a sink. */
export interface Flow {
  readonly source: number;
  readonly sink: number;
  readonly amount: number;
}

/** More pairs than this take the solver over a third of a second. */
export const mostPairs = 12_000;

const PIVOTS = 50_000;
/** A key that is no source and no sink. */
const OBJECTIVE = -1;

/**
 * The transport problem: as much as there is room for goes from sources to sinks, at the least sum
 * of amount times cost. By the simplex method; where that does not end (it never has) nearest
 * first, and never dearer than that. Flows in order of source, then sink; a source that can be
 * emptied is emptied to the last digit, sinks are kept to about 1e-7 of the whole. Where the cost is
 * Infinity nothing goes.
 * Throws RangeError for amounts or costs below 0 or no number, and for over `mostPairs` pairs.
 * Example: 5 and 5 to rooms of 6 and 6, cost 1 2 and 1 4: 1 and 4, 5: 1 + 8 + 5 = 14.
 */
export function cheapestTransport(
  supplies: readonly number[],
  rooms: readonly number[],
  costs: readonly (readonly number[])[],
): Flow[] {
  check(supplies, rooms, costs);
  const greedy = nearestFirst(supplies, rooms, costs);
  if (supplies.length < 2 && rooms.length < 2) return greedy;
  const solved = bySimplex(supplies, rooms, costs);
  if (!solved) return greedy;
  const more = totalAmount(solved) / totalAmount(greedy) - 1;
  const isDearer = transportCost(solved, costs) > transportCost(greedy, costs);
  const isWorse = more < -1e-7 || (more <= 1e-7 && isDearer);
  return isWorse ? greedy : solved;
}

/** Cheapest pair first, then the next; ties by source, then sink. Not the least in all. */
export function nearestFirst(
  supplies: readonly number[],
  rooms: readonly number[],
  costs: readonly (readonly number[])[],
): Flow[] {
  const [left, room] = [[...supplies], [...rooms]];
  const pairs = costs
    .flatMap((row, source) => row.map((cost, sink) => ({ source, sink, cost })))
    .filter(({ cost }) => cost < Infinity);
  pairs.sort((a, b) => a.cost - b.cost || a.source - b.source || a.sink - b.sink);
  const flows: Flow[] = [];
  for (const { source, sink } of pairs) {
    const amount = Math.min(left[source]!, room[sink]!);
    if (!(amount > 0)) continue;
    left[source]! -= amount;
    room[sink]! -= amount;
    flows.push({ source, sink, amount });
  }
  return inOrder(flows);
}

export function transportCost(
  flows: readonly Flow[],
  costs: readonly (readonly number[])[],
): number {
  return flows.reduce((sum, { source, sink, amount }) => sum + amount * costs[source]![sink]!, 0);
}

function totalAmount(flows: readonly Flow[]): number {
  return flows.reduce((sum, { amount }) => sum + amount, 0);
}

/** What the solver rounds away, of the mean supply; a flow of less is none. */
const ROUNDED = 1e-6;
const NONE = 1e-7;

function bySimplex(
  supplies: readonly number[],
  rooms: readonly number[],
  costs: readonly (readonly number[])[],
): Flow[] | null {
  const unit = supplies.reduce((sum, amount) => sum + amount, 0) / supplies.length;
  const finite = costs.flat().filter((cost) => cost < Infinity);
  const dearest = finite.reduce((most, cost) => Math.max(most, cost), 0);
  if (!(unit > 0) || finite.length === 0 || rooms.every((room) => room === 0)) return [];
  const most = (amount: number) => ({ max: amount / unit });
  const constraints = [...supplies, ...rooms].map((amount, key) => [key, most(amount)] as const);
  // Every source may go to every sink, so an amount that could still go somewhere gains at least
  // once the dearest cost: placing all that can be comes before saving.
  // Where some pairs are barred it may have to push others on, one after the other.
  const isBarred = finite.length < supplies.length * rooms.length;
  const steps = isBarred ? 2 * Math.min(supplies.length, rooms.length) : 2;
  const gain = steps * dearest + 1;
  const variables = costs.flatMap((row, i) =>
    row.flatMap((cost, j) => {
      if (cost === Infinity) return [];
      const limits = [[i, 1] as const, [supplies.length + j, 1] as const];
      return [[i * rooms.length + j, [[OBJECTIVE, cost / gain - 1] as const, ...limits]] as const];
    }),
  );
  const model = { direction: 'minimize', objective: OBJECTIVE, constraints, variables } as const;
  const { status, variables: found } = solve<number, number>(model, { maxPivots: PIVOTS });
  if (status !== 'optimal') return null;
  const flows = found
    .filter(([, value]) => value > NONE)
    .map(([key, value]): Flow => {
      return { source: Math.floor(key / rooms.length), sink: key % rooms.length, amount: value * unit }; // prettier-ignore
    });
  return emptied(inOrder(flows), supplies, ROUNDED * unit);
}

/** Puts right what the solver rounded: a source that is all but empty is empty. */
function emptied(flows: readonly Flow[], supplies: readonly number[], least: number): Flow[] {
  const sent = supplies.map(() => 0);
  for (const { source, amount } of flows) sent[source]! += amount;
  return flows
    .map((flow): Flow => {
      const [supply, whole] = [supplies[flow.source]!, sent[flow.source]!];
      const isAll = whole > supply || supply - whole < least;
      return isAll ? { ...flow, amount: (flow.amount / whole) * supply } : flow;
    })
    .filter(({ amount }) => amount > 0);
}

function inOrder(flows: Flow[]): Flow[] {
  return flows.sort((a, b) => a.source - b.source || a.sink - b.sink);
}

function check(
  supplies: readonly number[],
  rooms: readonly number[],
  costs: readonly (readonly number[])[],
): void {
  const pairs = supplies.length * rooms.length;
  if (pairs > mostPairs) throw new RangeError(`${pairs} pairs, at most ${mostPairs}`);
  if (costs.length !== supplies.length) throw new RangeError(`${costs.length} rows of costs`);
  for (const value of [...supplies, ...rooms]) {
    if (!(value >= 0 && value < Infinity)) throw new RangeError(`an amount of ${value}`);
  }
  for (const row of costs) {
    for (const cost of row) if (!(cost >= 0)) throw new RangeError(`a cost of ${cost}`);
    if (row.length !== rooms.length) throw new RangeError(`${row.length} costs in a row`);
  }
}
