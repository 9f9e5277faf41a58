import { crsFromEpsg } from '../../frame/crs.ts';
import type { Work } from '../../work.ts';
import { counted } from './count-words.ts';
import { kmlHandler, LEFT_OUT } from './kml-handler.ts';
import type { RawLayer } from './raw-feature.ts';
import { FETCH_AGAIN, VectorError, type Limits } from './vector-error.ts';
import { walkXml } from './walk-xml.ts';

/**
 * Reads KML (OGC 12-007r2, also 2.0 to 2.2 and the gx tracks): placemarks with names, descriptions,
 * extended data and folders. Nothing outside the file is ever fetched: network links, overlays and
 * models are counted and left out, styles passed over.
 * Throws VectorError, also where the file breaks off: half an outline is no outline.
 */
export function* readKml(text: string, file: string, limits: Limits): Work<RawLayer> {
  const handler = kmlHandler(limits);
  const { isCut, unknownEntities } = yield* walkXml(text, file, 'kml', handler);
  if (isCut) {
    throw new VectorError('kml-cut', 'The file breaks off before its end.', FETCH_AGAIN, file);
  }
  const notes: string[] = [];
  for (const [tag, count] of handler.leftOut) {
    const [one, many] = LEFT_OUT[tag];
    notes.push(`${file}: ${counted(count, one, many)} not followed or shown.`);
  }
  if (unknownEntities > 0) {
    notes.push(
      `${file}: ${counted(unknownEntities, 'entity', 'entities')} not expanded and left standing as text.`,
    );
  }
  return {
    file,
    format: 'kml',
    crs: crsFromEpsg(4326),
    isFixed: true,
    heightUnit: 'metre',
    features: handler.features(),
    notes,
  };
}
