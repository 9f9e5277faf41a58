import { Inflate } from 'fflate';
import type { Work } from '../../work.ts';

const PUSH_BYTES = 1 << 14;

class TooMuch extends Error {}

/**
 * Inflates a deflated member of a zip (RFC 1951) that promised `size` bytes; null where the stream
 * is damaged or gives more or less. Stops as soon as more comes out than promised, so that a promise
 * that was checked first bounds the memory. Yields every 16 kB of input.
 */
export function* inflateMember(
  packed: Uint8Array,
  size: number,
  doing: string,
): Work<Uint8Array | null> {
  const whole = new Uint8Array(size);
  let filled = 0;
  const stream = new Inflate((chunk) => {
    if (filled + chunk.length > size) throw new TooMuch();
    whole.set(chunk, filled);
    filled += chunk.length;
  });
  for (let at = 0; at < packed.length; at += PUSH_BYTES) {
    try {
      stream.push(packed.subarray(at, at + PUSH_BYTES), at + PUSH_BYTES >= packed.length);
    } catch {
      // Whatever the library says, the stream is wrong.
      return null;
    }
    yield { share: at / packed.length, doing };
  }
  return filled === size ? whole : null;
}
