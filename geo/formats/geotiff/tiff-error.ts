import { problem, type Problem, type Result } from '../../result.ts';
import type { ByteSource } from '../byte-source.ts';

/**
 * How a problem of the file travels inside this folder, from the byte where it shows to the door
 * where it becomes a `Result`. Nothing outside `geotiff/` sees it.
 */
export class TiffError extends Error {
  readonly problem: Problem;
  constructor(code: string, what: string, wayOut: string, where?: string) {
    super(`${code}: ${what}`);
    this.problem = where === undefined ? { code, what, wayOut } : { code, what, wayOut, where };
  }
}

const FETCH_AGAIN =
  'Copy or download the file again; if it still fails, save it again from the program that made it.';

export function damaged(what: string): TiffError {
  return new TiffError('tiff-damaged', what, FETCH_AGAIN);
}

export function truncated(what: string): TiffError {
  return new TiffError('tiff-truncated', what, FETCH_AGAIN);
}

export function stopped(): TiffError {
  return new TiffError('stopped', 'Reading was stopped.', 'Open the file again to start over.');
}

/** Runs `job` and turns a `TiffError` into a problem value naming the file; anything else is ours. */
export async function asResult<T>(
  source: ByteSource,
  job: () => Promise<Result<T>>,
): Promise<Result<T>> {
  try {
    return await job();
  } catch (error) {
    if (!(error instanceof TiffError)) throw error;
    const { code, what, wayOut, where } = error.problem;
    return problem(code, what, wayOut, where ? `${source.name}, ${where}` : source.name);
  }
}

/** Bytes from the source; a failing read (network, a file that was moved) is the user's to know. */
export async function readBytes(
  source: ByteSource,
  offset: number,
  length: number,
): Promise<Uint8Array> {
  let bytes: Uint8Array;
  try {
    bytes = await source.read(offset, length);
  } catch (error) {
    throw new TiffError(
      'source-read-failed',
      `The file could not be read (${error instanceof Error ? error.message : String(error)}).`,
      'Check that the file or address can still be reached, then open it again.',
    );
  }
  if (bytes.byteLength < length && offset + bytes.byteLength < source.size) {
    throw new TiffError(
      'source-read-failed',
      `Only ${bytes.byteLength} of ${length} bytes came from the file.`,
      'Check the connection, then open it again.',
    );
  }
  return bytes;
}
