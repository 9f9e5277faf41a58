import { problem, ok, type Result } from '../../geo/result.ts';

/** What may go wrong between here and a server, each as one sentence with the way out. */

export interface FetchLimits {
  readonly milliseconds: number;
  readonly mostBytes: number;
  readonly fetchIt?: (url: string, options: RequestInit) => Promise<Response>;
}

export const tileLimits: FetchLimits = { milliseconds: 20_000, mostBytes: 8_000_000 };
export const capabilityLimits: FetchLimits = { milliseconds: 30_000, mostBytes: 12_000_000 };

export const openFile = 'Or download the photo and open the file.';

export interface Fetched {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly type: string;
  /** Where it came from in the end. */
  readonly url: string;
}

/** A tile that the server does not have: no fault, the ground is beyond its pictures. */
export const noTile = 'imagery-no-tile';

/**
 * Fetches within a time and a size, without cookies and without telling where the page is. Rejects
 * only when `signal` stops it.
 */
export async function fetchWithin(
  url: string,
  signal: AbortSignal,
  { milliseconds, mostBytes, fetchIt = (...args) => fetch(...args) }: FetchLimits,
): Promise<Result<Fetched>> {
  const clock = AbortSignal.timeout(milliseconds);
  const options: RequestInit = {
    signal: AbortSignal.any([signal, clock]),
    credentials: 'omit',
    referrerPolicy: 'no-referrer',
  };
  try {
    const response = await fetchIt(url, options);
    const fault = statusFault(response, url);
    if (fault) {
      await response.body?.cancel().catch(() => undefined);
      return fault;
    }
    const bytes = await readUpTo(response, mostBytes);
    if (!bytes) {
      return problem(
        'imagery-endless',
        `The server sends more than ${Math.round(mostBytes / 1e6)} MB for one answer.`,
        `This is not the address of a map service or of its tiles: check it. ${openFile}`,
        url,
      );
    }
    const type = response.headers.get('content-type') ?? '';
    return ok({ bytes, type, url: response.url || url });
  } catch (error) {
    if (signal.aborted) throw error;
    if (clock.aborted) {
      return problem(
        'imagery-slow',
        `The server did not finish its answer within ${Math.round(milliseconds / 1000)} seconds.`,
        `Try again later. ${openFile}`,
        url,
      );
    }
    return problem(
      'imagery-unreachable',
      'The address cannot be reached, or its server does not let other pages use its pictures.',
      `Check the address and your connection; or ask its owner to allow it (CORS). ${openFile}`,
      url,
    );
  }
}

function statusFault({ status, ok: fine }: Response, url: string): Result<never> | null {
  // ArcGIS and others say 404 or nothing beyond their pictures.
  if (status === 404 || status === 410 || status === 204) {
    return problem(
      noTile,
      'There is nothing at this address.',
      'Check the address; the service may have moved.',
      url,
    );
  }
  if (status === 401 || status === 403) {
    return problem(
      'imagery-forbidden',
      'The server does not let you have these pictures.',
      `If it wants a key, put the key into the address. ${openFile}`,
      url,
    );
  }
  if (!fine) {
    return problem(
      'imagery-error',
      `The server answered with error ${status}.`,
      `Try again later. ${openFile}`,
      url,
    );
  }
  return null;
}

async function readUpTo(response: Response, most: number): Promise<Uint8Array<ArrayBuffer> | null> {
  const reader = response.body?.getReader();
  if (!reader) return new Uint8Array(await response.arrayBuffer());
  const parts: Uint8Array[] = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > most) {
      await reader.cancel().catch(() => undefined);
      return null;
    }
    parts.push(value);
  }
  const whole = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
