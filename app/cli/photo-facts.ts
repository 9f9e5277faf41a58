import type { OpenedPhoto } from '../../geo/formats/open-ground.ts';

/** A photo in JSON, without its pixels. */
export function photoFacts(photo: OpenedPhoto) {
  const crs = { epsg: photo.crs.epsg, name: photo.crs.name };
  if (photo.stored === 'encoded') {
    const { name, mime, bytes, affine } = photo.photo;
    return {
      kind: 'photo',
      name,
      stored: mime,
      bytes: bytes.length,
      sourceCrs: crs,
      affineInSourceUnits: affine,
    };
  }
  const { name, width, height, bands, sample, cellMeters, affine, dateTag, levels } = photo.header;
  return {
    kind: 'photo',
    name,
    stored: 'GeoTIFF',
    columns: width,
    rows: height,
    bands,
    sample,
    overviews: levels.length - 1,
    cellMeters,
    date: dateTag,
    sourceCrs: crs,
    affineInSourceUnits: affine,
  };
}
