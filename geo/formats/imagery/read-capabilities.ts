import { ok, problem, type Result } from '../../result.ts';
import { short, type ImageryOffer } from './offer.ts';
import { readWms } from './read-wms.ts';
import { readWmts } from './read-wmts.ts';
import { xmlTree, type XmlElement } from './xml-tree.ts';

/**
 * What a map service offers, from the text that it answered to a question for its capabilities.
 * @param url address that the text came from; relative addresses in it start there
 */
export function readCapabilities(text: string, url: string): Result<ImageryOffer> {
  const where = url;
  if (looksLikePage(text)) {
    return problem(
      'imagery-is-page',
      'The address leads to a web page, not to a map service.',
      'Look on that page for the address of its WMS, WMTS or tile service, and paste that.',
      where,
    );
  }
  const root = xmlTree(text);
  if (!root) {
    return problem(
      'imagery-not-capabilities',
      'What the server sent is no description of a map service, or it is broken.',
      'Check the address with whoever runs the service: it should answer to GetCapabilities.',
      where,
    );
  }
  const offer = readRoot(root, url);
  if (!offer.ok) return offer;
  const { service } = offer.value;
  const layers = offer.value.layers.filter((layer) => canBeRead(layer.template, url));
  const unsafe = offer.value.layers.filter((layer) => !layers.includes(layer));
  const leftOut = [
    ...offer.value.leftOut,
    ...unsafe.map(({ name }) => ({
      title: name,
      why: 'Its pictures do not come over https, and browsers do not let this page read others.',
    })),
  ];
  if (layers.length > 0) return ok({ ...offer.value, layers, leftOut });
  const why = leftOut[0]?.why ?? 'It lists no layer.';
  return problem(
    'imagery-no-layer',
    `Nothing of this ${service.split(' ')[0]} service can be shown. ${why}`,
    'Ask its owner for a web-mercator service, or download the photo and open the file.',
    where,
  );
}

function canBeRead(template: string, capabilitiesUrl: string): boolean {
  const address = template.replace(/[{}]/g, '_');
  if (!URL.canParse(address)) return false;
  const { protocol, origin } = new URL(address);
  return protocol === 'https:' || origin === new URL(capabilitiesUrl).origin;
}

function readRoot(root: XmlElement, url: string): Result<ImageryOffer> {
  const version = root.attributes['version'] ?? '';
  if (root.name === 'WMS_Capabilities' || root.name === 'WMT_MS_Capabilities') {
    if (/^1\.(1|3)\b/.test(version)) return ok(readWms(root, url));
    return other(`a WMS of version ${short(version, 20) || 'unknown'}`, url);
  }
  if (root.name === 'Capabilities' && root.children.some((child) => child.name === 'Contents')) {
    const isTiles = root.children.some(
      (child) =>
        child.name === 'Contents' && child.children.some((inner) => inner.name === 'TileMatrixSet'),
    );
    if (isTiles) return ok(readWmts(root, url));
  }
  if (root.name === 'ServiceExceptionReport' || root.name === 'ExceptionReport') {
    const said = short(textIn(root), 160);
    return problem(
      'imagery-service-refuses',
      `The service answers with an error${said ? `: “${said}”` : ''}.`,
      'Check the address; leave off everything after the question mark and try again.',
      url,
    );
  }
  return other(otherService(root), url);
}

function other(found: string, url: string): Result<never> {
  return problem(
    'imagery-other-service',
    `This is ${found}, which sends no pictures that can be shown here.`,
    'Look for the WMS or WMTS address of the same server.',
    url,
  );
}

const names: readonly (readonly [RegExp, string])[] = [
  [/^WFS_Capabilities$/i, 'a feature service (WFS)'],
  [/^WCS_Capabilities$/i, 'a coverage service (WCS)'],
  [/^(TileMapService|TileMap)$/i, 'a description of a tile map (TMS)'],
  [/^(kml|gpx|rss|feed|svg)$/i, 'a file of another kind'],
];

function otherService(root: XmlElement): string {
  const known = names.find(([pattern]) => pattern.test(root.name));
  return known ? known[1] : `XML of another kind (<${short(root.name, 40)}>)`;
}

function textIn(element: XmlElement): string {
  return [element.text, ...element.children.map(textIn)].filter(Boolean).join(' ');
}

/** True for HTML, whatever the server calls it. */
export function looksLikePage(text: string): boolean {
  return /^\s*(<!--[\s\S]*?-->\s*)*<(!doctype\s+html|html|head|body)\b/i.test(text.slice(0, 4000));
}
