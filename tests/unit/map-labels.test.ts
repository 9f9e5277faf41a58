import { createExpression, featureFilter, latest, type SymbolLayerSpecification } from '@maplibre/maplibre-gl-style-spec'; // prettier-ignore
import { expect, test } from 'vitest';
import { laneFeatures, type LaneShape } from '../../layers/plan/lane-layers.ts';
import { mapStyle } from '../../layers/map-style.ts';

/** Labels that would lie on others are left out; by the style specification's own expressions and filters. */

const layer = (id: string) => mapStyle().layers.find((one) => one.id === id) as SymbolLayerSpecification; // prettier-ignore
const valueOf = (
  property: 'symbol-sort-key' | 'text-variable-anchor-offset',
  expression: unknown,
  properties: Record<string, unknown>,
): unknown => {
  // prettier-ignore
  const made = createExpression(expression, property, latest.layout_symbol[property] as never);
  if (made.result === 'error') throw new Error(JSON.stringify(made.value));
  return made.value.evaluate({ zoom: 16 }, { type: 'Point', properties });
};

test('only the place that was asked to be shown may lie over other labels', () => {
  const loud = mapStyle().layers.filter((one) => one.type === 'symbol' && ['ways-in', 'stand-shots', 'low-spots'].includes(one.source) && one.layout?.['text-allow-overlap']); // prettier-ignore
  expect(loud.map(({ id }) => id)).toEqual(['stand-place-shown']);
  for (const isShown of [false, true]) {
    const takes = (id: string) => featureFilter(layer(id).filter as never, 'filter').filter({ zoom: 16 }, { type: 1, properties: { is: 'place', isShown } } as never); // prettier-ignore
    expect([takes('stand-places'), takes('stand-place-shown')]).toEqual([!isShown, isShown]);
  }
  expect(layer('stand-places').layout).toMatchObject({ 'icon-allow-overlap': true, 'text-optional': true }); // prettier-ignore
});

test('the deepest low spot has its words placed first, clear of a plot’s name if it must be', () => {
  const { layout } = layer('low-spots-label');
  // 17 in and 2 in.
  const [deep, shallow] = [0.4318, 0.0508].map((maxDepthMeters) => valueOf('symbol-sort-key', layout!['symbol-sort-key'], { maxDepthMeters }) as number); // prettier-ignore
  expect(deep).toBeLessThan(shallow!);
  const offsets = (layout!['text-variable-anchor-offset'] as unknown[]).filter((one): one is [number, number] => Array.isArray(one)); // prettier-ignore
  // A name and its caption take 2.2 lines of 15 px about their place, these 1.15 of 14 px: 1.8 of them.
  expect(Math.max(...offsets.map(([, y]) => y))).toBeGreaterThan(1.8);
});

test('words of a way in go inwards from the sides of what is fitted', () => {
  const way = (is: LaneShape['is'], from: number): LaneShape => ({ line: [[from, 36], [from + 0.001, 36.001]], is, label: is, exposed: [] }); // prettier-ignore
  const { features } = laneFeatures([way('best', -75), way('second', -74.99), way('out', -74.995)]);
  const sides = Object.fromEntries(features.flatMap(({ properties }) => (properties!['is'] === 'label' ? [[properties!['label'], properties!['side']]] : []))); // prettier-ignore
  expect(sides).toEqual({ best: 'west', out: 'middle', second: 'east' });
  const anchors = (side: string) => JSON.stringify(valueOf('text-variable-anchor-offset', layer('ways-in-labels').layout!['text-variable-anchor-offset'], { side })); // prettier-ignore
  expect(anchors('west')).not.toMatch(/right/);
  expect(anchors('east')).not.toMatch(/left/);
  expect(anchors('middle')).toMatch(/left.*right/);
});
