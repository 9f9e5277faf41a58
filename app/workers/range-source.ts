import type { ByteSource } from '../../geo/formats/byte-source.ts';
import { ok, problem, type Result } from '../../geo/result.ts';

const FIRST_BYTES = 16 * 1024;
const DOWNLOAD = 'Download the file and open it from your disk.';

type Fetch = (url: string, options: RequestInit) => Promise<Response>;

/**
 * A file at a web address, read by HTTP range requests (RFC 9110 §14). What can go wrong at the
 * first request is a problem; a later read rejects with a plain sentence.
 */
export async function openRangeSource(
  address: string,
  fetchIt: Fetch = (url, options) => fetch(url, options),
): Promise<Result<ByteSource>> {
  const url = URL.canParse(address) ? new URL(address) : null;
  if (!url || !/^https?:$/.test(url.protocol)) {
    return problem(
      'address-bad',
      'This is not a web address.',
      'Paste the whole address of the file, beginning with https://.',
      address,
    );
  }
  let response: Response;
  try {
    response = await fetchIt(url.href, { headers: { Range: `bytes=0-${FIRST_BYTES - 1}` } });
  } catch {
    return problem(
      'address-unreachable',
      'The address cannot be reached, or its server does not let other pages read from it.',
      `Check the address and your connection. ${DOWNLOAD}`,
      address,
    );
  }
  const fault = await faultOf(response, address);
  if (fault) {
    await response.body?.cancel().catch(() => undefined);
    return fault;
  }
  const size = sizeFrom(response) ?? (await sizeByHead(url.href, fetchIt));
  if (size === null) {
    await response.body?.cancel().catch(() => undefined);
    return problem(
      'address-no-length',
      'The server does not say how long the file is.',
      DOWNLOAD,
      address,
    );
  }
  let first: Uint8Array;
  try {
    first = new Uint8Array(await response.arrayBuffer());
  } catch {
    return problem('address-broken-off', 'The connection broke off.', 'Try again.', address);
  }
  return ok(rangeSource(url, size, first, fetchIt));
}

function rangeSource(url: URL, size: number, first: Uint8Array, fetchIt: Fetch): ByteSource {
  return {
    name: nameIn(url),
    size,
    async read(offset, length) {
      const end = Math.min(size, offset + length);
      if (end <= offset) return new Uint8Array(0);
      if (end <= first.length) return first.subarray(offset, end);
      const headers = { Range: `bytes=${offset}-${end - 1}` };
      const response = await fetchIt(url.href, { headers }).catch(() => {
        throw new Error('the connection to the address was lost');
      });
      if (response.status !== 206) {
        await response.body?.cancel().catch(() => undefined);
        throw new Error(`the server answered ${response.status} in the middle of the file`);
      }
      return new Uint8Array(await response.arrayBuffer());
    },
  };
}

async function faultOf(response: Response, address: string): Promise<Result<never> | null> {
  const { status } = response;
  const fault = (code: string, what: string, wayOut: string) =>
    problem(code, what, wayOut, address);
  if (status === 404 || status === 410) {
    return fault(
      'address-not-found',
      'There is no file at this address.',
      'Check the address; the file may have moved.',
    );
  }
  if (status === 401 || status === 403) {
    return fault('address-forbidden', 'The server does not let you have this file.', DOWNLOAD);
  }
  if (status === 416) {
    return fault('file-empty', 'The file at this address is empty.', 'Check the address.');
  }
  if (status !== 200 && status !== 206) {
    return fault(
      'address-refused',
      `The server answered with error ${status}.`,
      `Try again later. ${DOWNLOAD}`,
    );
  }
  if (/^text\/html|^application\/xhtml/i.test(response.headers.get('content-type') ?? '')) {
    return fault(
      'address-is-page',
      'The address leads to a web page, not to a file.',
      'Open that page, copy the address of the download itself, and paste that.',
    );
  }
  if (status === 200) {
    return fault('address-no-ranges', 'The server cannot send a part of a file.', DOWNLOAD);
  }
  return null;
}

/** Whole length from `Content-Range: bytes 0-99/1234`; null where hidden or unknown. */
function sizeFrom(response: Response): number | null {
  const found = /\/(\d+)\s*$/.exec(response.headers.get('content-range') ?? '')?.[1];
  return found === undefined ? null : Number(found);
}

/** A server on another host often hides Content-Range from pages, but never Content-Length. */
async function sizeByHead(url: string, fetchIt: Fetch): Promise<number | null> {
  try {
    const response = await fetchIt(url, { method: 'HEAD' });
    const length = response.headers.get('content-length');
    const encoded = response.headers.get('content-encoding') !== null;
    return response.ok && !encoded && length !== null && /^\d+$/.test(length)
      ? Number(length)
      : null;
  } catch {
    return null;
  }
}

function nameIn(url: URL): string {
  const last = url.pathname.split('/').findLast((part) => part !== '') ?? url.hostname;
  try {
    return decodeURIComponent(last);
  } catch {
    return last;
  }
}
