import { validateStyleMin } from '@maplibre/maplibre-gl-style-spec';
import { expect, test } from 'vitest';
import { mapStyle, rasterAnchor } from '../../layers/map-style.ts';
import { dashes } from '../../layers/plan/dashes.ts';

// Truth: the style specification's own validator (MapLibre Style Specification 8).
test('the whole style is valid, and asks the network for nothing', () => {
  const style = mapStyle();
  expect(validateStyleMin(style)).toEqual([]);
  expect(style.glyphs).toBeUndefined();
  expect(style.sprite).toBeUndefined();
  expect(JSON.stringify(style)).not.toMatch(/https?:/);
  expect(style.layers.some((layer) => layer.id === rasterAnchor)).toBe(true);
});

test('the validator would see a wrong expression', () => {
  const style = mapStyle();
  const broken = style.layers.find((layer) => layer.id === 'plan-line')!;
  (broken as { paint: object }).paint = { 'line-width': ['get'] };
  expect(validateStyleMin(style).length).toBeGreaterThan(0);
});

test('dashes are even lists of lengths', () => {
  for (const lengths of Object.values(dashes)) {
    expect(lengths.length % 2).toBe(0);
    expect(Math.min(...lengths)).toBeGreaterThan(0);
  }
});
