import type { LinearUnit } from '../../frame/crs-types.ts';

/** What GDAL's private XML tag (42112) says of the first band, as far as heights need it. */
export interface BandMetadata {
  /** A height is `stored * scale + offset`. */
  readonly scale: number;
  readonly offset: number;
  readonly unit: LinearUnit | null;
}

const PLAIN: BandMetadata = { scale: 1, offset: 0, unit: null };

/**
 * Reads the `<Item name=".." sample="0" role="scale">` elements for one band; GDAL's GeoTIFF driver
 * page names the tag and the roles `scale`, `offset` and `unittype`. No XML reader: items are flat.
 */
export function bandMetadata(xml: string | undefined, band: number): BandMetadata {
  if (!xml) return PLAIN;
  const found = { ...PLAIN };
  for (const [, attributes, text] of xml.matchAll(/<Item\b([^>]{0,400})>([^<]{0,400})<\/Item>/g)) {
    if (attribute(attributes, 'sample') !== String(band)) continue;
    const role = attribute(attributes, 'role');
    const number = Number(text);
    if (role === 'scale' && Number.isFinite(number) && number !== 0) found.scale = number;
    else if (role === 'offset' && Number.isFinite(number)) found.offset = number;
    else if (role === 'unittype') found.unit = unitFromWord(text);
  }
  return found;
}

function attribute(attributes: string, name: string): string | undefined {
  return new RegExp(`\\b${name}="([^"]*)"`).exec(attributes)?.[1];
}

/** Words for a band's unit; null where the word does not say which: "ft" could be either foot. */
function unitFromWord(word: string): LinearUnit | null {
  const plain = word.trim().toLowerCase();
  if (/^(m|metre|meter|metres|meters)$/.test(plain)) return 'metre';
  if (/^(us-ft|ftus|us survey foot|us survey feet|foot_us|us_survey_foot)$/.test(plain)) {
    return 'us-survey-foot';
  }
  return /^international f(oo|ee)t$/.test(plain) ? 'international-foot' : null;
}
