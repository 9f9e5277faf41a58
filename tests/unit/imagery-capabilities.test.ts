import { describe, expect, test } from 'vitest';
import { readCapabilities } from '../../geo/formats/imagery/read-capabilities.ts';
import { tileAddress } from '../../geo/formats/imagery/tile-address.ts';
import { wms111, wms130, wmts } from '../imagery-samples.ts';

const url = 'https://photos.test/ows?x=1';
const offerOf = (text: string, from = url) => {
  const read = readCapabilities(text, from);
  if (!read.ok) throw new Error(read.problem.what);
  return read.value;
};
const codeOf = (text: string) => {
  const read = readCapabilities(text, url);
  return read.ok ? 'read' : read.problem.code;
};
const query = (template: string, z = 12, x = 1180, y = 1600) =>
  new URL(tileAddress(template, z, x, y)).searchParams;

describe('WMS', () => {
  test('1.3.0: web mercator where it is offered, inherited from above', () => {
    const offer = offerOf(wms130('https://photos.test/get?map=a&'));
    expect([offer.service, offer.title]).toEqual(['WMS 1.3.0', 'County photos']);
    const [leafOff, , degrees] = offer.layers;
    expect(leafOff).toMatchObject({
      key: 'leaf_off',
      name: 'Leaf-off 2023 & 2024',
      attribution: 'Invented County',
      bounds: [-75.2, 36, -74.8, 36.3],
    });
    const asked = query(leafOff!.template);
    expect(Object.fromEntries(asked)).toMatchObject({
      map: 'a',
      SERVICE: 'WMS',
      VERSION: '1.3.0',
      REQUEST: 'GetMap',
      LAYERS: 'leaf_off',
      STYLES: '',
      CRS: 'EPSG:3857',
      FORMAT: 'image/png',
      WIDTH: '512',
    });
    // EPSG:3857 is east, north in every version.
    const [west, south, east, north] = asked.get('BBOX')!.split(',').map(Number);
    expect([west! < -8_000_000, south! > 4_000_000]).toEqual([true, true]);
    expect([east! - west!, north! - south!].map(Math.round)).toEqual([9784, 9784]);

    // OGC 06-042 §6.7.4 with EPSG:4326: latitude first.
    expect(degrees!.key).toBe('old_scan');
    const [a, b, c, d] = query(degrees!.template).get('BBOX')!.split(',').map(Number);
    expect([a! > 30, b! < -70, c! > a!, d! > b!]).toEqual([true, true, true, true]);
    expect([degrees!.minZoom, query(degrees!.template).get('CRS')]).toEqual([10, 'EPSG:4326']);
    expect(offer.leftOut).toEqual([
      { title: 'State plane only', why: expect.stringContaining('EPSG:3857') as string },
    ]);
  });

  test('1.3.0 with CRS:84 is longitude first', () => {
    const offer = offerOf(wms130('https://photos.test/get'));
    const crs84 = offer.layers.find((layer) => layer.key === 'crs84')!;
    const [a, b] = query(crs84.template).get('BBOX')!.split(',').map(Number);
    expect([a! < -70, b! > 30]).toEqual([true, true]);
  });

  test('1.1.1: SRS, and EPSG:4326 is longitude first', () => {
    const offer = offerOf(wms111('https://photos.test/get'));
    const [scan] = offer.layers;
    const asked = query(scan!.template);
    expect([asked.get('VERSION'), asked.get('SRS'), asked.get('CRS')]).toEqual([
      '1.1.1',
      'EPSG:4326',
      null,
    ]);
    const [a, b] = asked.get('BBOX')!.split(',').map(Number);
    expect([a! < -70, b! > 30]).toEqual([true, true]);
    // The layer fills its tiles: JPEG.
    expect(asked.get('FORMAT')).toBe('image/jpeg');
    // No Attribution: the service's title and host stand in.
    expect(scan!.attribution).toBe('Old county photos, photos.test');
  });

  test('an inner http address gives way to the one that was asked', () => {
    const offer = offerOf(wms130('http://inner.photos.local:8080/wms?'));
    expect(offer.layers[0]!.template).toMatch(/^https:\/\/photos\.test\/ows\?x=1&SERVICE=WMS/);
  });
});

describe('WMTS', () => {
  test('GoogleMapsCompatible by resource address and by keys', () => {
    const offer = offerOf(wmts('https://photos.test'), 'https://photos.test/wmts/c.xml');
    expect(offer.layers.map((layer) => layer.key)).toEqual(['rest', 'kvp', 'big']);
    const [rest, kvp, big] = offer.layers;
    expect(tileAddress(rest!.template, 12, 1180, 1600)).toBe(
      'https://photos.test/rest/leaf%20off/2024/gmc/12/1600/1180.jpg',
    );
    expect(rest).toMatchObject({ minZoom: 10, maxZoom: 12, tileSize: 256 });
    expect(rest!.attribution).toBe('Invented County, photos.test');
    expect(Object.fromEntries(query(kvp!.template))).toMatchObject({
      SERVICE: 'WMTS',
      REQUEST: 'GetTile',
      LAYER: 'kvp',
      STYLE: 'default',
      TILEMATRIXSET: 'EPSG:900913',
      TILEMATRIX: 'EPSG:900913:12',
      TILEROW: '1600',
      TILECOL: '1180',
    });
    // Tiles of 512 pixels: level 0 has half the scale denominator of annex E.4.
    expect(big).toMatchObject({ tileSize: 512, minZoom: 9, maxZoom: 11 });
    expect(tileAddress(big!.template, 10, 3, 4)).toMatch(/\/10\/4\/3\.png$/);
  });

  test('another layout is left out, whatever it is called', () => {
    const offer = offerOf(wmts('https://photos.test'), 'https://photos.test/wmts/c.xml');
    expect(offer.leftOut.map((left) => left.title)).toEqual(['State grid', 'Shifted corner']);
    expect(offer.leftOut[0]!.why).toMatch(/GoogleMapsCompatible/);
  });
});

describe('not the capabilities of imagery', () => {
  test('each says what it is', () => {
    expect(codeOf('<!DOCTYPE html><html><body>Welcome</body></html>')).toBe('imagery-is-page');
    expect(codeOf('<!-- hi --> <HTML lang="en">')).toBe('imagery-is-page');
    expect(codeOf('{"currentVersion": 11}')).toBe('imagery-not-capabilities');
    expect(codeOf('')).toBe('imagery-not-capabilities');
    expect(codeOf('<WMS_Capabilities version="1.3.0"><Service>')).toBe('imagery-not-capabilities');
    expect(codeOf(`${'<a>'.repeat(101)}${'</a>'.repeat(101)}`)).toBe('imagery-not-capabilities');
    expect(codeOf('<WFS_Capabilities version="2.0.0"/>')).toBe('imagery-other-service');
    expect(codeOf('<WMT_MS_Capabilities version="1.0.0"/>')).toBe('imagery-other-service');
    expect(codeOf('<WMS_Capabilities version="1.3.0"/>')).toBe('imagery-no-layer');
    const refusal =
      '<ServiceExceptionReport><ServiceException>No &lt;map&gt;</ServiceException></ServiceExceptionReport>';
    const read = readCapabilities(refusal, url);
    expect(read.ok ? '' : read.problem.what).toBe('The service answers with an error: “No <map>”.');
  });

  test('an entity of the document’s own is neither defined nor fetched', () => {
    const text = wms130('https://photos.test/get')
      .replace(
        '?>',
        '?><!DOCTYPE a [<!ENTITY boom "&boom2;&boom2;"><!ENTITY x SYSTEM "file:///etc/passwd">]>',
      )
      .replace('County photos', 'County &boom; photos');
    expect(offerOf(text).title).toBe('County &boom; photos');
  });
});
