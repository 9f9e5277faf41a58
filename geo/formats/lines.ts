import { ok, type Result } from '../result.ts';
import { stopped } from './ascii-grid.ts';
import type { ByteSource } from './byte-source.ts';
import type { Reading } from './opening.ts';

/** Lines end as in any system: by a line feed, a carriage return, or both in that order. */

const CHUNK_BYTES = 1 << 20;
const [LINE_FEED, RETURN, QUOTE] = [10, 13, 34];

/** What becomes of a line: bytes `from` up to `to`, its number from 1, whether it holds a quote. */
export type TakeLine = (
  bytes: Uint8Array,
  from: number,
  to: number,
  line: number,
  isQuoted: boolean,
) => Result<never> | null;

export interface LineOrder {
  readonly doing: string;
  readonly take: TakeLine;
  /** Problem of a line longer than a piece. */
  readonly tooLong: (line: number) => Result<never>;
  /** Asked after each piece: true ends the reading. */
  readonly isEnough?: () => boolean;
}

/**
 * Hands over every line of a file in pieces of 1 MB, telling progress and hearing a stop; bytes are
 * good until the next line is handed over. The last line needs no end. Line ends within quotes end the
 * line all the same. Problems: a stop, a line over a million letters, and the first that `take` gives.
 * Never throws but what `source.read` and `take` throw.
 */
export async function readLines(
  source: ByteSource,
  { doing, take, tooLong, isEnough }: LineOrder,
  reading: Reading,
): Promise<Result<null>> {
  let line = 0;
  let position = 0;
  while (position < source.size) {
    if (reading.shouldStop?.()) return stopped(source);
    const bytes = await source.read(position, CHUNK_BYTES);
    if (bytes.length === 0) break;
    const isLast = position + bytes.length >= source.size;
    let at = 0;
    while (at < bytes.length) {
      let end = at;
      let isQuoted = false;
      for (; end < bytes.length && bytes[end] !== LINE_FEED && bytes[end] !== RETURN; end++) {
        if (bytes[end] === QUOTE) isQuoted = true;
      }
      // A carriage return at the end of a piece may have its line feed in the next.
      const isCut = end === bytes.length || (bytes[end] === RETURN && end === bytes.length - 1);
      if (isCut && !isLast) break;
      const problem = take(bytes, at, end, ++line, isQuoted);
      if (problem) return problem;
      at = bytes[end] === RETURN && bytes[end + 1] === LINE_FEED ? end + 2 : end + 1;
    }
    if (at === 0) return tooLong(line + 1);
    position += Math.min(at, bytes.length);
    if (isEnough?.()) break;
    await reading.onProgress?.({ share: position / source.size, doing });
  }
  return ok(null);
}

/** The lines of a text, whatever they end by; a byte order mark before the first is left out. */
export function linesOf(text: string): string[] {
  return text.replace(/^\ufeff/, '').split(/\r\n|\r|\n/);
}
