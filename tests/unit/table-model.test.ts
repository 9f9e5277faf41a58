import { describe, expect, it } from 'vitest';
import { rowsBetween, rowTops, tableRows } from '../../app/page/table/table-model.ts';
import { keyProperties } from '../../app/words/key-properties.ts';
import { editableProperties } from '../../app/words/property-schema.ts';
import type { FeatureAnswers } from '../../geo/answers/answers.ts';
import { parseFeature, type PlanFeature } from '../../geo/plan/feature.ts';
import { kindNames } from '../../geo/plan/kinds.ts';

function feature(id: string, kind: string, name: string, more: object = {}): PlanFeature {
  const shapes: Record<string, object> = {
    Point: { type: 'Point', coordinates: [-75, 36] },
    LineString: {
      type: 'LineString',
      coordinates: [
        [-75, 36],
        [-75, 36.01],
      ],
    },
    Polygon: {
      type: 'Polygon',
      coordinates: [
        [
          [-75, 36],
          [-74.99, 36],
          [-75, 36.01],
          [-75, 36],
        ],
      ],
    },
  };
  for (const geometry of Object.values(shapes)) {
    const made = parseFeature({ id, kind, name, geometry, ...more });
    if (made.ok) return made.value;
  }
  throw new Error(`no ${kind}`);
}

const measured = (value: object) =>
  ({ shapeMeasure: { value } }) as unknown as Partial<FeatureAnswers>;
const all: Record<string, PlanFeature> = {
  a: feature('a', 'clearing', 'Field 10'),
  b: feature('b', 'clearing', 'field 9'),
  c: feature('c', 'ditch', 'Low ditch'),
  d: feature('d', 'no-go', 'Spring', { properties: { reason: 'wetland' } }),
  e: feature('e', 'outlet', ''),
};
const answers = {
  a: measured({ shape: 'area', areaSquareMeters: 500 }),
  b: measured({ shape: 'area', areaSquareMeters: 900 }),
  c: measured({ shape: 'line', lengthMeters: 70_000 }),
  e: measured({ shape: 'point', elevationMeters: 200 }),
};
const ids = (filter: string, by: 'name' | 'kind' | 'size', falling = false) =>
  tableRows(all, answers, filter, { by, falling })
    .map((row) => row.feature.id)
    .join('');

describe('the rows of the table', () => {
  it('come by name with numbers as numbers, and turned round', () => {
    expect(ids('', 'name')).toBe('ebacd');
    expect(ids('', 'name', true)).toBe('dcabe');
  });
  it('come by kind as it is read, then by name', () => {
    // Clearing, Ditch, No-go ground, Outlet.
    expect(ids('', 'kind')).toBe('bacde');
  });
  it('come by size, each measure by itself, what has none last either way', () => {
    expect(ids('', 'size')).toBe('abced');
    expect(ids('', 'size', true)).toBe('baced');
  });
  it('are found by name, kind and what was set, all words of the filter', () => {
    expect(ids('field', 'name')).toBe('ba');
    expect(ids('NO-GO wet', 'name')).toBe('d');
    expect(ids('wetland ditch', 'name')).toBe('');
  });
});

describe('rows in sight', () => {
  const rows = tableRows(all, answers, '', { by: 'name', falling: false });
  it('stand under each other by what they hold', () => {
    const tops = rowTops(rows, { base: 100, perProperty: 10 });
    const heights = rows.map(({ feature: { kind } }) => 100 + 10 * keyProperties[kind].length);
    rows.forEach((_, i) => expect(tops[i + 1]! - tops[i]!).toBe(heights[i]));
  });
  it('are those between two heights and a few around', () => {
    const tops = Float64Array.from({ length: 501 }, (_, i) => i * 60);
    expect(rowsBetween(tops, 0, 600, 0)).toEqual([0, 11]);
    expect(rowsBetween(tops, 6_030, 6_630, 3)).toEqual([97, 114]);
    expect(rowsBetween(tops, 29_900, 30_500, 3)).toEqual([495, 500]);
    expect(rowsBetween(new Float64Array(1), 0, 600, 3)).toEqual([0, 0]);
  });
});

it('names key properties that can be edited in one line', () => {
  for (const kind of kindNames) {
    const editable = editableProperties(kind).filter(({ editor }) => editor.edit !== 'list');
    const keys = editable.map(({ key }) => key);
    expect(keys).toEqual(expect.arrayContaining([...keyProperties[kind]]));
    expect(keyProperties[kind].length).toBeLessThanOrEqual(2);
  }
});
