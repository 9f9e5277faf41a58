import { deflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { createDecodePool, type ToDecodeWorker } from '../../app/workers/decode-pool.ts';
import { decodeBlock, type BlockParams } from '../../geo/formats/geotiff/decode-block.ts';

// The pool on a stand-in for a worker that only keeps the contract; the real one runs in the bench.

const params: BlockParams = {
  compression: 8,
  predictor: 1,
  bits: 32,
  littleEndian: true,
  width: 16,
  rows: 16,
  rowsNeeded: 16,
  samples: 1,
  jpegTables: null,
  jpegColours: 'rgb',
};
const cells = Float32Array.from({ length: 256 }, (_, i) => i / 3);
const packed = () => new Uint8Array(deflateSync(new Uint8Array(cells.buffer)));

class StandIn {
  onmessage: ((event: { data: unknown }) => void) | null = null;
  onerror: ((event: { message: string }) => void) | null = null;
  onmessageerror: (() => void) | null = null;
  terminated = false;
  readonly jobs: ToDecodeWorker[] = [];
  constructor(readonly behaviour: 'good' | 'silent' | 'dead' | 'deaf') {
    if (behaviour === 'dead') queueMicrotask(() => this.onerror?.({ message: 'no such file' }));
    else if (behaviour !== 'silent') queueMicrotask(() => this.say({ ready: true }));
  }
  say(data: unknown) {
    this.onmessage?.({ data });
  }
  postMessage(job: ToDecodeWorker) {
    this.jobs.push(job);
    if (this.behaviour !== 'good') return;
    decodeBlock(job.bytes, job.params, job.spare).then(
      (block) => this.say({ job: job.job, ok: true, block }),
      (error: Error) => this.say({ job: job.job, ok: false, message: error.message }),
    );
  }
  terminate() {
    this.terminated = true;
  }
}

function poolOf(behaviour: StandIn['behaviour'], lanes = 2) {
  const made: StandIn[] = [];
  const makeWorker = () => {
    made.push(new StandIn(behaviour));
    return made.at(-1) as unknown as Worker;
  };
  return { made, pool: createDecodePool({ lanes, makeWorker, handshakeMilliseconds: 30 }) };
}

const expectCells = (block: ArrayBuffer) =>
  expect(Buffer.from(block).equals(Buffer.from(cells.buffer))).toBe(true);

describe('decode pool', () => {
  test('workers share the jobs and give what the function gives', async () => {
    const { pool, made } = poolOf('good');
    const blocks = await Promise.all(
      Array.from({ length: 9 }, () => pool.decode(packed(), params)),
    );
    blocks.forEach(expectCells);
    expect(made).toHaveLength(2);
    for (const worker of made) expect(worker.jobs.length).toBeGreaterThan(2);
    pool.close();
    expect(made.every((w) => w.terminated)).toBe(true);
  });

  test('memory given back is used again, and nothing of the old block shows', async () => {
    const { pool, made } = poolOf('good', 1);
    const first = await pool.decode(packed(), params);
    new Uint8Array(first).fill(255);
    pool.giveBack?.(first);
    const second = await pool.decode(packed(), params);
    expect(made[0]!.jobs[1]!.spare).toBe(first);
    expect(second).toBe(first);
    expectCells(second);
    pool.giveBack?.(new ArrayBuffer(7));
    expectCells(await pool.decode(packed(), params));
    pool.close();
  });

  test('a damaged block rejects alone', async () => {
    const { pool } = poolOf('good');
    await expect(pool.decode(new Uint8Array(40), params)).rejects.toThrow('not zlib');
    expectCells(await pool.decode(packed(), params));
    pool.close();
  });

  test.each(['silent', 'dead'] as const)('%s workers: the calling thread does it', async (kind) => {
    const { pool, made } = poolOf(kind);
    const blocks = await Promise.all([
      pool.decode(packed(), params),
      pool.decode(packed(), params),
    ]);
    blocks.forEach(expectCells);
    expect(made.every((w) => w.terminated)).toBe(true);
    expectCells(await pool.decode(packed(), params));
  });

  test('a worker that breaks down later rejects everything waiting, then the pool goes on alone', async () => {
    for (const breakDown of [
      (w: StandIn) => w.onerror?.({ message: 'out of memory' }),
      (w: StandIn) => w.onmessageerror?.(),
    ]) {
      const { pool, made } = poolOf('deaf');
      const waiting = Array.from({ length: 7 }, () => pool.decode(packed(), params));
      const settled = Promise.allSettled(waiting);
      await new Promise((done) => setTimeout(done, 5));
      breakDown(made[0]!);
      expect((await settled).map((s) => s.status)).toEqual(Array(7).fill('rejected'));
      expectCells(await pool.decode(packed(), params));
    }
  });

  test('where there are no workers at all', async () => {
    const pool = createDecodePool({
      makeWorker: () => {
        throw new ReferenceError('Worker is not defined');
      },
    });
    expectCells(await pool.decode(packed(), params));
  });
});
