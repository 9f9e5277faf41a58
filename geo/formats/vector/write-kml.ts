import { zipSync } from 'fflate';
import type { Position } from '../../plan/feature.ts';
import { plainAttribute, turnRings, type OutFeature } from './out-feature.ts';
import { xmlText } from './xml-text.ts';
import { ZIP_DATE } from '../zip/zip-date.ts';

/**
 * KML 2.2 text (OGC 07-147r2): a folder per layer, attributes as extended data, outlines drawn
 * unfilled so that the photo below stays in sight. Lines and areas lie on the ground.
 */
export function writeKml(features: readonly OutFeature[], title: string): string {
  const layers = [...new Set(features.map((feature) => feature.layer))];
  const folders = layers.map((layer) => {
    const own = features.filter((feature) => feature.layer === layer).map(placemark);
    return layer === ''
      ? own.join('')
      : `<Folder>\n<name>${xmlText(layer)}</name>\n${own.join('')}</Folder>\n`;
  });
  return (
    '<?xml version="1.0" encoding="UTF-8"?>\n' +
    '<kml xmlns="http://www.opengis.net/kml/2.2">\n<Document>\n' +
    `<name>${xmlText(title)}</name>\n` +
    '<Style id="drawn"><LineStyle><color>ff00a5ff</color><width>3</width></LineStyle>' +
    '<PolyStyle><fill>0</fill></PolyStyle></Style>\n' +
    `${folders.join('')}</Document>\n</kml>\n`
  );
}

/** The same, zipped as a KMZ with its document called doc.kml. */
export function writeKmz(features: readonly OutFeature[], title: string): Uint8Array {
  const text = new TextEncoder().encode(writeKml(features, title));
  return zipSync({ 'doc.kml': text }, { mtime: ZIP_DATE });
}

function placemark(feature: OutFeature): string {
  const { name, description } = feature;
  const data = Object.entries(feature.attributes).map(
    ([key, value]) =>
      `<Data name="${xmlText(key)}"><value>${xmlText(String(plainAttribute(value)))}</value></Data>`,
  );
  return (
    `<Placemark>\n<name>${xmlText(name)}</name>\n` +
    (description === '' ? '' : `<description>${xmlText(description)}</description>\n`) +
    '<styleUrl>#drawn</styleUrl>\n' +
    (data.length === 0 ? '' : `<ExtendedData>${data.join('')}</ExtendedData>\n`) +
    `${geometryText(feature)}\n</Placemark>\n`
  );
}

function geometryText({ geometry, pointData }: OutFeature): string {
  const heights = pointData?.heightUnit === 'metre' ? pointData.heights : null;
  const isHigh = heights !== null && heights.every((height) => !Number.isNaN(height));
  const mode = isHigh ? '<altitudeMode>absolute</altitudeMode>' : '';
  const list = (line: readonly Position[]) =>
    line.map(([lng, lat], i) => (isHigh ? `${lng},${lat},${heights[i]}` : `${lng},${lat}`));
  const coordinates = (line: readonly Position[]) =>
    `<coordinates>${list(line).join(' ')}</coordinates>`;
  switch (geometry.type) {
    case 'Point':
      return `<Point>${mode}${coordinates([geometry.coordinates])}</Point>`;
    case 'LineString':
      return `<LineString>${isHigh ? '' : '<tessellate>1</tessellate>'}${mode}${coordinates(geometry.coordinates)}</LineString>`;
    case 'Polygon': {
      const rings = turnRings(geometry.coordinates, true).map((ring, i) => {
        const side = i === 0 ? 'outerBoundaryIs' : 'innerBoundaryIs';
        return `<${side}><LinearRing>${coordinates(ring)}</LinearRing></${side}>`;
      });
      return `<Polygon><tessellate>1</tessellate>${rings.join('')}</Polygon>`;
    }
  }
}
