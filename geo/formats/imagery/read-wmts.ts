import { isWebMercator, serviceBase, short, soundBounds, withParameters } from './offer.ts';
import type { ImageryOffer, OfferedLayer } from './offer.ts';
import { childrenAt, textAt, type XmlElement } from './xml-tree.ts';

/** OGC 07-057r7 annex E.4, GoogleMapsCompatible: scale of level 0 with tiles of 256 pixels. */
const scaleOfLevelZero = 559_082_264.028_717_8;
const cornerMeters = 20_037_508.342_789_2;

/** A matrix set that counts as web mercator's own, as far as its levels reach. */
interface Pyramid {
  readonly tileSize: 256 | 512;
  readonly minZoom: number;
  readonly maxZoom: number;
  /** How the service writes a level. */
  readonly level: string;
}

/**
 * Layers of a Web Map Tile Service 1.0.0 (OGC 07-057r7) from its capabilities, root element
 * `Capabilities`: by resource address (REST) where there is one, else by keys and values. Only
 * matrix sets laid out like GoogleMapsCompatible, judged by their numbers and not by their name.
 */
export function readWmts(root: XmlElement, capabilitiesUrl: string): ImageryOffer {
  const host = new URL(capabilitiesUrl).hostname;
  const title = short(textAt(root, 'ServiceIdentification', 'Title')) || host;
  const provider = short(textAt(root, 'ServiceProvider', 'ProviderName')) || title;
  const pyramids = new Map<string, Pyramid>();
  for (const set of childrenAt(root, 'Contents', 'TileMatrixSet')) {
    const pyramid = pyramidOf(set);
    if (pyramid) pyramids.set(textAt(set, 'Identifier'), pyramid);
  }
  const keyValueBase = getTileBase(root, capabilitiesUrl);
  const layers: OfferedLayer[] = [];
  const leftOut: { title: string; why: string }[] = [];
  for (const layer of childrenAt(root, 'Contents', 'Layer')) {
    const key = textAt(layer, 'Identifier');
    const name = short(textAt(layer, 'Title')) || key;
    const sets = childrenAt(layer, 'TileMatrixSetLink', 'TileMatrixSet').map((set) => set.text);
    const set = sets.find((id) => pyramids.has(id));
    if (key === '' || set === undefined) {
      const why =
        'Its tiles are not laid out like GoogleMapsCompatible (web mercator, EPSG:3857), the only layout that is shown.';
      leftOut.push({ title: name, why });
      continue;
    }
    const pyramid = pyramids.get(set)!;
    const template = templateOf(layer, key, set, pyramid.level, keyValueBase, capabilitiesUrl);
    if (template === null) {
      leftOut.push({ title: name, why: 'It comes neither as PNG nor as JPEG.' });
      continue;
    }
    const { tileSize, minZoom, maxZoom } = pyramid;
    const attribution = short(`${provider}, ${host}`);
    const bounds = boundsOf(layer);
    layers.push({ key, name, template, attribution, minZoom, maxZoom, tileSize, bounds });
  }
  return { service: 'WMTS 1.0.0', title, layers, leftOut };
}

function pyramidOf(set: XmlElement): Pyramid | null {
  if (!isWebMercator(textAt(set, 'SupportedCRS'))) return null;
  const levels: { zoom: number; id: string }[] = [];
  let tileSize = 0;
  for (const matrix of childrenAt(set, 'TileMatrix')) {
    const size = Number(textAt(matrix, 'TileWidth'));
    const [x, y] = textAt(matrix, 'TopLeftCorner').split(/\s+/).map(Number);
    const zoom = Math.log2(
      ((scaleOfLevelZero / Number(textAt(matrix, 'ScaleDenominator'))) * 256) / size,
    );
    const fits =
      (size === 256 || size === 512) &&
      size === Number(textAt(matrix, 'TileHeight')) &&
      (tileSize === 0 || tileSize === size) &&
      Math.abs(zoom - Math.round(zoom)) < 1e-4 &&
      Math.abs(x! + cornerMeters) < 1 &&
      Math.abs(y! - cornerMeters) < 1;
    if (!fits) return null;
    tileSize = size;
    levels.push({ zoom: Math.round(zoom), id: textAt(matrix, 'Identifier') });
  }
  levels.sort((a, b) => a.zoom - b.zoom);
  const level = levelWriting(levels);
  if (level === null) return null;
  const minZoom = levels[0]!.zoom;
  const maxZoom = levels[levels.length - 1]!.zoom;
  if (minZoom < 0 || maxZoom > 24 || maxZoom - minZoom !== levels.length - 1) return null;
  return { tileSize: tileSize as 256 | 512, minZoom, maxZoom, level };
}

/** The blank that writes every level as the service does, or null where no rule fits. */
function levelWriting(levels: readonly { zoom: number; id: string }[]): string | null {
  const first = levels[0] && /^(.*?)(\d+)$/.exec(levels[0].id);
  if (!first) return null;
  const [, prefix, digits] = first as unknown as [string, string, string];
  const shift = Number(digits) - levels[0]!.zoom;
  const shifted = shift > 0 ? `{z+${shift}}` : `{z${shift}}`;
  const ways: readonly (readonly [string, (zoom: number) => string])[] = [
    ['{z}', String],
    ['{zz}', (zoom) => String(zoom).padStart(2, '0')],
    [shifted, (zoom) => String(zoom + shift)],
  ];
  const way = ways.find(([, write]) => levels.every(({ zoom, id }) => id === prefix + write(zoom)));
  return way ? prefix + way[0] : null;
}

function templateOf(
  layer: XmlElement,
  key: string,
  set: string,
  level: string,
  keyValueBase: string | null,
  capabilitiesUrl: string,
): string | null {
  const formats = ['image/jpeg', 'image/jpg', 'image/png', 'image/webp'];
  const styles = childrenAt(layer, 'Style');
  const chosen = styles.find((s) => s.attributes['isDefault'] === 'true') ?? styles[0];
  const style = chosen ? textAt(chosen, 'Identifier') : 'default';
  const dimensions = childrenAt(layer, 'Dimension').map(
    (d) => [textAt(d, 'Identifier'), textAt(d, 'Default')] as const,
  );
  const resource = childrenAt(layer, 'ResourceURL').find(
    ({ attributes }) =>
      attributes['resourceType'] === 'tile' &&
      formats.includes((attributes['format'] ?? '').toLowerCase()),
  );
  if (resource) {
    let filled = resource.attributes['template'] ?? '';
    const fill: readonly (readonly [string, string])[] = [
      ['Style', style],
      ['TileMatrixSet', set],
      ...dimensions,
    ];
    for (const [name, value] of fill) {
      filled = replaceBlank(filled, name, encodeURIComponent(value));
    }
    filled = replaceBlank(filled, 'TileMatrix', level);
    filled = replaceBlank(filled, 'TileRow', '{y}');
    filled = replaceBlank(filled, 'TileCol', '{x}');
    // A server that moved to https but still writes http is read by https.
    if (capabilitiesUrl.startsWith('https:')) filled = filled.replace(/^http:/, 'https:');
    return filled;
  }
  const format = childrenAt(layer, 'Format')
    .map((f) => f.text)
    .find((name) => formats.includes(name.toLowerCase()));
  if (keyValueBase === null || format === undefined) return null;
  return withParameters(keyValueBase, {
    SERVICE: 'WMTS',
    REQUEST: 'GetTile',
    VERSION: '1.0.0',
    LAYER: key,
    STYLE: style,
    FORMAT: format,
    TILEMATRIXSET: set,
    TILEMATRIX: level,
    TILEROW: '{y}',
    TILECOL: '{x}',
    ...Object.fromEntries(dimensions),
  });
}

function replaceBlank(template: string, name: string, value: string): string {
  return template.replace(/\{([^{}]+)\}/g, (blank, found: string) =>
    found.toLowerCase() === name.toLowerCase() ? value : blank,
  );
}

/** Where GetTile takes keys and values; null where it does not say so. */
function getTileBase(root: XmlElement, capabilitiesUrl: string): string | null {
  const operation = childrenAt(root, 'OperationsMetadata', 'Operation').find(
    (o) => o.attributes['name'] === 'GetTile',
  );
  for (const get of operation ? childrenAt(operation, 'DCP', 'HTTP', 'Get') : []) {
    const encodings = childrenAt(get, 'Constraint', 'AllowedValues', 'Value').map((v) => v.text);
    if (encodings.length === 0 || encodings.includes('KVP')) {
      return serviceBase(get.attributes['href'], capabilitiesUrl);
    }
  }
  return null;
}

function boundsOf(layer: XmlElement): [number, number, number, number] | null {
  const box = childrenAt(layer, 'WGS84BoundingBox')[0];
  if (!box) return null;
  const [west, south] = textAt(box, 'LowerCorner').split(/\s+/).map(Number);
  const [east, north] = textAt(box, 'UpperCorner').split(/\s+/).map(Number);
  return soundBounds(west!, south!, east!, north!);
}
