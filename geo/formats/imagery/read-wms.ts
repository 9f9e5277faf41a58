import { isWebMercator, serviceBase, short, soundBounds, withParameters } from './offer.ts';
import type { ImageryOffer, OfferedLayer } from './offer.ts';
import { childrenAt, textAt, type XmlElement } from './xml-tree.ts';

/** In degrees a tile is stretched evenly, which is off by 0.2 px of 256 at zoom 10 and 45° N. */
const firstZoomInDegrees = 10;

/** What a layer hands down to those inside it (OGC 06-042 table 9, OGC 01-068r3 table 4). */
interface Inherited {
  readonly systems: readonly string[];
  readonly bounds: [number, number, number, number] | null;
  readonly attribution: string;
}

interface Service {
  readonly version: string;
  readonly base: string;
  readonly formats: readonly string[];
  readonly tileSize: 256 | 512;
  readonly host: string;
  readonly title: string;
}

/**
 * Layers of a Web Map Service from its capabilities, version 1.1.x (OGC 01-068r3) or 1.3.0
 * (OGC 06-042), root element `WMT_MS_Capabilities` or `WMS_Capabilities`. Web mercator is asked for
 * where it is offered; else longitude and latitude, in the order that the version wants: EPSG:4326 is
 * latitude first in 1.3.0 and longitude first before; CRS:84 is longitude first.
 */
export function readWms(root: XmlElement, capabilitiesUrl: string): ImageryOffer {
  const version = root.attributes['version'] ?? '';
  const getMap = childrenAt(root, 'Capability', 'Request', 'GetMap')[0];
  const resource = getMap && childrenAt(getMap, 'DCPType', 'HTTP', 'Get', 'OnlineResource')[0];
  const widest = Number(textAt(root, 'Service', 'MaxWidth') || Infinity);
  const host = new URL(capabilitiesUrl).hostname;
  const service: Service = {
    version,
    base: serviceBase(resource?.attributes['href'], capabilitiesUrl),
    formats: getMap ? childrenAt(getMap, 'Format').map((format) => format.text) : [],
    tileSize: widest < 512 ? 256 : 512,
    host,
    title: short(textAt(root, 'Service', 'Title')) || host,
  };
  const offer = { layers: [] as OfferedLayer[], leftOut: [] as ImageryOffer['leftOut'][number][] };
  const start: Inherited = { systems: [], bounds: null, attribution: '' };
  for (const layer of childrenAt(root, 'Capability', 'Layer')) {
    collect(layer, start, service, offer);
  }
  return { service: `WMS ${version}`, title: service.title, ...offer };
}

function collect(
  layer: XmlElement,
  above: Inherited,
  service: Service,
  offer: { layers: OfferedLayer[]; leftOut: { title: string; why: string }[] },
): void {
  const systems = [...childrenAt(layer, 'CRS'), ...childrenAt(layer, 'SRS')]
    // Version 1.1.1 lets one element list several.
    .flatMap((element) => element.text.split(/\s+/))
    .filter((name) => name !== '');
  const own: Inherited = {
    systems: [...new Set([...above.systems, ...systems])],
    bounds: boundsOf(layer) ?? above.bounds,
    attribution: short(textAt(layer, 'Attribution', 'Title')) || above.attribution,
  };
  const key = textAt(layer, 'Name');
  if (key !== '') {
    const made = offered(layer, key, own, service);
    const title = short(textAt(layer, 'Title')) || key;
    if (typeof made === 'string') offer.leftOut.push({ title, why: made });
    else offer.layers.push({ ...made, key, name: title });
  }
  for (const inner of childrenAt(layer, 'Layer')) collect(inner, own, service, offer);
}

function offered(
  layer: XmlElement,
  key: string,
  { systems, bounds, attribution }: Inherited,
  service: Service,
): Omit<OfferedLayer, 'key' | 'name'> | string {
  const is13 = service.version.startsWith('1.3');
  const mercator = systems.find(isWebMercator);
  const degrees =
    systems.find((name) => /^CRS:84$/i.test(name)) ??
    systems.find((name) => /^EPSG:4326$/i.test(name));
  const system = mercator ?? degrees;
  if (system === undefined) {
    return 'It is offered neither in web mercator (EPSG:3857) nor in longitude and latitude (EPSG:4326).';
  }
  const latitudeFirst = is13 && /^EPSG:4326$/i.test(system);
  const box = mercator ? '{bbox-3857}' : latitudeFirst ? '{bbox-lat-lon}' : '{bbox-lon-lat}';
  const format = pictureFormat(service.formats, layer.attributes['opaque'] === '1');
  if (format === null) return 'It comes neither as PNG nor as JPEG.';
  const size = String(service.tileSize);
  const template = withParameters(service.base, {
    SERVICE: 'WMS',
    VERSION: service.version,
    REQUEST: 'GetMap',
    LAYERS: key,
    STYLES: '',
    FORMAT: format,
    TRANSPARENT: format === 'image/jpeg' ? 'FALSE' : 'TRUE',
    [is13 ? 'CRS' : 'SRS']: system,
    WIDTH: size,
    HEIGHT: size,
    BBOX: box,
  });
  return {
    template,
    attribution: attribution || short(`${service.title}, ${service.host}`),
    minZoom: mercator ? 0 : firstZoomInDegrees,
    maxZoom: 22,
    tileSize: service.tileSize,
    bounds,
  };
}

/** PNG keeps what lies beyond the photo clear; JPEG where the layer says that it fills its tiles. */
function pictureFormat(formats: readonly string[], opaque: boolean): string | null {
  const wanted = opaque
    ? ['image/jpeg', 'image/vnd.jpeg-png', 'image/png', 'image/png8', 'image/webp']
    : ['image/vnd.jpeg-png', 'image/png', 'image/png8', 'image/webp', 'image/jpeg'];
  for (const name of wanted) {
    const exact = formats.find((format) => format.toLowerCase() === name);
    const found = exact ?? formats.find((format) => format.toLowerCase().startsWith(`${name};`));
    if (found !== undefined) return found;
  }
  return null;
}

function boundsOf(layer: XmlElement): [number, number, number, number] | null {
  const box13 = childrenAt(layer, 'EX_GeographicBoundingBox')[0];
  if (box13) {
    const side = (name: string) => Number(textAt(box13, name) || NaN);
    return soundBounds(
      side('westBoundLongitude'),
      side('southBoundLatitude'),
      side('eastBoundLongitude'),
      side('northBoundLatitude'),
    );
  }
  const box11 = childrenAt(layer, 'LatLonBoundingBox')[0];
  if (!box11) return null;
  const side = (name: string) => Number(box11.attributes[name] ?? NaN);
  return soundBounds(side('minx'), side('miny'), side('maxx'), side('maxy'));
}
