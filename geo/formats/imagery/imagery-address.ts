import { ok, problem, type Result } from '../../result.ts';

/** What an address typed by the user is. */
export type ImageryAddress =
  | { readonly kind: 'tiles'; readonly template: string }
  | {
      /** Capabilities are to be fetched at these addresses, in turn, until one is read. */
      readonly kind: 'service';
      readonly tries: readonly string[];
      /** Layer that the address already names, if any. */
      readonly layer: string | null;
    };

const requestKeys =
  /^(service|request|version|layers?|styles?|format|bbox|srs|crs|width|height|tilematrixset|tilematrix|tilerow|tilecol|transparent|bgcolor|exceptions)$/i;

/**
 * Reads an address of imagery: a tile template (`{z}`, `{x}`, `{y}` or `{-y}`, `{s}` for servers), or
 * a WMS or WMTS service by its base address, its capabilities or one of its map requests. Only https,
 * and http on this very machine, because a page over https may read nothing else.
 */
export function imageryAddress(typed: string): Result<ImageryAddress> {
  const address = typed.trim().replace(/\{(s|switch:[^{}]*)\}/gi, firstServer);
  // Blanks are no part of a valid address; they are put back afterwards.
  const plain = address.replace(/[{}]/g, (brace) => encodeURIComponent(brace));
  const url =
    /^[a-z][a-z0-9+.-]*:\/\//i.test(address) && URL.canParse(plain) ? new URL(plain) : null;
  if (!url) {
    return refused(
      'imagery-address-bad',
      'This is not a web address.',
      'Paste the whole address, beginning with https://.',
      address,
    );
  }
  const isHere = url.hostname === '127.0.0.1' || url.hostname === 'localhost';
  if (url.protocol !== 'https:' && !(url.protocol === 'http:' && isHere)) {
    return refused(
      'imagery-not-https',
      `The address begins with ${url.protocol}//, which browsers do not let this page read.`,
      'Try the same address with https://. If the server has none, download the photo and open the file.',
      address,
    );
  }
  if (url.username !== '' || url.password !== '') {
    return refused(
      'imagery-password',
      'The address holds a name and a password, and the plan would carry them along.',
      'Use an address without them.',
      address,
    );
  }
  if (/\{[^{}]*\}/.test(address)) return template(address);
  if (/\/(Map|Image)Server\/?$/i.test(url.pathname)) {
    const base = `${url.origin}${url.pathname.replace(/\/$/, '')}`;
    return ok({ kind: 'tiles', template: `${base}/tile/{z}/{y}/{x}` });
  }
  if (/\.(jpe?g|png|tiff?|webp)$/i.test(url.pathname)) {
    return refused(
      'imagery-one-picture',
      'The address is that of one picture or file, not of a map service.',
      'Put {z}, {x} and {y} where the tile’s numbers stand; or open the file under Ground.',
      address,
    );
  }
  return ok(service(url));
}

/** Of several servers that hold the same, the first. */
function firstServer(blank: string): string {
  return /^\{switch:\s*([^,{}\s]+)/i.exec(blank)?.[1] ?? 'a';
}

function template(address: string): Result<ImageryAddress> {
  const filled = address
    .replace(/\{TileMatrix\}/gi, '{z}')
    .replace(/\{TileRow\}/gi, '{y}')
    .replace(/\{TileCol\}/gi, '{x}')
    .replace(/\{bbox-epsg-3857\}/gi, '{bbox-3857}')
    .replace(/\{([zxy]|-y)\}/gi, (blank) => blank.toLowerCase());
  const blanks = [...filled.matchAll(/\{([^{}]*)\}/g)].map((match) => match[1]!);
  const unknown = blanks.find((name) => !['z', 'x', 'y', '-y', 'bbox-3857'].includes(name));
  if (unknown !== undefined) {
    return refused(
      'imagery-blank-unknown',
      `The address has a blank {${unknown}} that is not known here.`,
      'Use {z}, {x} and {y} for the tile, and {s} for a server’s letter.',
      address,
    );
  }
  const has = (name: string) => blanks.includes(name);
  const wholeTile = has('z') && has('x') && (has('y') || has('-y'));
  if (!wholeTile && !has('bbox-3857')) {
    return refused(
      'imagery-blank-missing',
      'The address does not say where the tile’s numbers go.',
      'It needs {z}, {x} and {y} (or {-y} where rows count from the south).',
      address,
    );
  }
  return ok({ kind: 'tiles', template: filled });
}

function service(url: URL): ImageryAddress {
  const query = new Map([...url.searchParams].map(([key, value]) => [key.toLowerCase(), value]));
  const named = (query.get('service') ?? '').toUpperCase();
  const layer = (query.get('layers') ?? query.get('layer') ?? '').split(',')[0] || null;
  const version = query.get('version') ?? '';
  const asked = (name: 'WMS' | 'WMTS'): string => {
    const next = new URL(url);
    for (const key of Array.from(next.searchParams.keys())) {
      if (requestKeys.test(key)) next.searchParams.delete(key);
    }
    next.searchParams.set('SERVICE', name);
    next.searchParams.set('REQUEST', 'GetCapabilities');
    // A service of the older version may know no newer one; without a version it gives its best.
    if (name === 'WMS' && version === '1.1.1') next.searchParams.set('VERSION', version);
    next.hash = '';
    return next.href;
  };
  const isFile = /\.xml$/i.test(url.pathname);
  if (isFile) return { kind: 'service', tries: [url.href], layer };
  const first = named === 'WMTS' || (named === '' && /wmts/i.test(url.pathname)) ? 'WMTS' : 'WMS';
  if (named === 'WMS' || named === 'WMTS') {
    return { kind: 'service', tries: [asked(first)], layer };
  }
  return {
    kind: 'service',
    tries: [asked(first), asked(first === 'WMS' ? 'WMTS' : 'WMS')],
    layer,
  };
}

function refused(code: string, what: string, wayOut: string, where: string): Result<never> {
  return problem(code, what, wayOut, where);
}
