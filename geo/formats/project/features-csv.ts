import { lineLengthMeters, measurePolygon } from '../../frame/geodesic.ts';
import { acresFromSquareMeters, feetFromMeters } from '../../frame/units.ts';
import type { PlanFeature } from '../../plan/feature.ts';
import { findOutlineFault } from '../../plan/outline-faults.ts';

const columns = 'id,kind,name,acres,perimeter_feet,length_feet,longitude,latitude';

/**
 * `tables/features.csv` (RFC 4180): one row for each feature, by id, with its acres and feet on the
 * ellipsoid. The place is that of a point, the start of a line, the first corner of an area. An
 * outline that crosses itself has no clear acres, and gets none.
 */
export function writeFeaturesCsv(features: readonly PlanFeature[]): string {
  const rows = features
    .toSorted((a, b) => (a.id < b.id ? -1 : 1))
    .map((feature) => row(feature).join(','));
  return `${[columns, ...rows].join('\r\n')}\r\n`;
}

function row({ id, kind, name, geometry }: PlanFeature): string[] {
  const start =
    geometry.type === 'Point'
      ? geometry.coordinates
      : geometry.type === 'LineString'
        ? geometry.coordinates[0]
        : geometry.coordinates[0][0];
  const place = start.map(String);
  const isClear = geometry.type === 'Polygon' && !findOutlineFault(geometry.coordinates);
  const area = isClear ? measurePolygon(geometry.coordinates) : null;
  const acres = area && acresFromSquareMeters(area.areaSquareMeters).toFixed(4);
  const perimeter =
    area && feetFromMeters(area.perimeterMeters + area.holesPerimeterMeters).toFixed(2);
  const length =
    geometry.type === 'LineString'
      ? feetFromMeters(lineLengthMeters(geometry.coordinates)).toFixed(2)
      : '';
  return [id, kind, name].map(textField).concat(acres ?? '', perimeter ?? '', length, place);
}

/** Quoted; what a spreadsheet would take for a formula gets an apostrophe, so that it stays text. */
function textField(text: string): string {
  const plain = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return `"${plain.replaceAll('"', '""')}"`;
}
