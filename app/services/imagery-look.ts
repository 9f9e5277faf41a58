import { imageryAddress } from '../../geo/formats/imagery/imagery-address.ts';
import { short, type ImageryOffer } from '../../geo/formats/imagery/offer.ts';
import { readCapabilities } from '../../geo/formats/imagery/read-capabilities.ts';
import { tileAddress } from '../../geo/formats/imagery/tile-address.ts';
import type { OfferedImagery } from '../../geo/plan/imagery.ts';
import { ok, problem, type Problem, type Result } from '../../geo/result.ts';
import { capabilityLimits, fetchWithin, noTile, tileLimits } from './imagery-fetch.ts';
import { notAPicture } from './imagery-not-picture.ts';

export type Look =
  | { readonly kind: 'one'; readonly imagery: OfferedImagery }
  | { readonly kind: 'several'; readonly offer: ImageryOffer };

/** Levels at which a new address is tried over the site, finest first. */
const triedZooms = [20, 19, 18, 17, 16, 15, 14, 12, 9];

/**
 * Finds out what an address offers: reads what a service says of itself, and fetches one tile over
 * the site, so that nothing is taken into the plan that cannot be shown. Rejects only when stopped.
 * @param site [longitude, latitude] of ground that matters; null where there is none yet
 */
export async function lookAtImagery(
  typed: string,
  site: readonly [number, number] | null,
  signal: AbortSignal,
): Promise<Result<Look>> {
  const address = imageryAddress(typed);
  if (!address.ok) return address;
  if (address.value.kind === 'tiles') {
    const tried = await tryTiles(named(address.value.template), site, signal);
    return tried.ok ? ok({ kind: 'one', imagery: tried.value }) : tried;
  }
  const offer = await askService(address.value.tries, signal);
  if (!offer.ok) return offer;
  const { layers } = offer.value;
  const wanted = address.value.layer;
  const chosen = layers.length === 1 ? layers[0] : layers.find((layer) => layer.key === wanted);
  if (!chosen) return ok({ kind: 'several', offer: offer.value });
  const tried = await tryOffered(chosen, site, signal);
  return tried.ok ? ok({ kind: 'one', imagery: tried.value }) : tried;
}

/** Fetches one tile of an offered layer over the site; a tile that is not there is no fault. */
export async function tryOffered(
  { name, template, attribution, minZoom, maxZoom, tileSize, bounds }: OfferedImagery,
  site: readonly [number, number] | null,
  signal: AbortSignal,
): Promise<Result<OfferedImagery>> {
  const imagery = { name, template, attribution, minZoom, maxZoom, tileSize, bounds };
  const zoom = Math.max(minZoom, Math.min(maxZoom, 16));
  const fault = await tileFault(template, site && zoom, site, signal);
  if (fault && fault.code !== noTile) return { ok: false, problem: fault };
  return ok(imagery);
}

/** The finest level that has a picture over the site becomes the last; coarser tiles stretch on. */
async function tryTiles(
  imagery: OfferedImagery,
  site: readonly [number, number] | null,
  signal: AbortSignal,
): Promise<Result<OfferedImagery>> {
  if (!site) {
    const fault = await tileFault(imagery.template, null, null, signal);
    return fault ? { ok: false, problem: fault } : ok(imagery);
  }
  let worst: Problem | null = null;
  for (const zoom of triedZooms) {
    const fault = await tileFault(imagery.template, zoom, site, signal);
    if (!fault) return ok({ ...imagery, maxZoom: zoom === triedZooms[0] ? 22 : zoom });
    // Some servers answer with an error, not with "not found", beyond their last level.
    if (fault.code !== noTile && fault.code !== 'imagery-error') {
      return { ok: false, problem: fault };
    }
    if (fault.code !== noTile) worst = fault;
  }
  if (worst) return { ok: false, problem: worst };
  return problem(
    'imagery-nothing-here',
    'The server has no picture of this ground at any scale that was tried.',
    'Check the order of {z}, {x} and {y} in the address: some servers want {y} before {x}.',
    imagery.template,
  );
}

/** Null where a picture came. Without a site the whole northern west of the world is asked for. */
async function tileFault(
  template: string,
  zoom: number | null,
  site: readonly [number, number] | null,
  signal: AbortSignal,
): Promise<Problem | null> {
  const [z, x, y] = site && zoom !== null ? [zoom, ...tileUnder(site, zoom)] : [1, 0, 0];
  const fetched = await fetchWithin(tileAddress(template, z!, x!, y!), signal, tileLimits);
  if (!fetched.ok) return fetched.problem;
  try {
    const { bytes, type } = fetched.value;
    (await createImageBitmap(new Blob([bytes], { type }))).close();
    return null;
  } catch {
    return notAPicture(fetched.value);
  }
}

function tileUnder([lng, lat]: readonly [number, number], zoom: number): [number, number] {
  const across = 2 ** zoom;
  const y = (1 - Math.asinh(Math.tan((lat * Math.PI) / 180)) / Math.PI) / 2;
  const inside = (share: number) => Math.max(0, Math.min(across - 1, Math.floor(share * across)));
  return [inside((lng + 180) / 360), inside(y)];
}

/** Asks each address in turn; of several faults the one that tells most is given back. */
async function askService(
  tries: readonly string[],
  signal: AbortSignal,
): Promise<Result<ImageryOffer>> {
  let told: Result<never> | null = null;
  for (const url of tries) {
    const fetched = await fetchWithin(url, signal, capabilityLimits);
    if (!fetched.ok) {
      told ??= fetched;
      continue;
    }
    const { bytes } = fetched.value;
    const read = readCapabilities(new TextDecoder().decode(bytes), fetched.value.url);
    if (read.ok) return read;
    const tellsLittle =
      told === null ||
      ['imagery-not-capabilities', noTile].includes(told.ok ? '' : told.problem.code);
    if (tellsLittle) told = read;
  }
  return told ?? problem(noTile, 'There is nothing at this address.', 'Check the address.');
}

function named(template: string): OfferedImagery {
  const host = new URL(template.replace(/[{}]/g, '')).hostname;
  return {
    name: short(host),
    template,
    attribution: `Imagery: ${host}`,
    minZoom: 0,
    maxZoom: 19,
    tileSize: 256,
    bounds: null,
  };
}
