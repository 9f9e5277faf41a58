import { expect, test } from 'vitest';
import { fader } from '../../layers/fade.ts';
import { mapStyle } from '../../layers/map-style.ts';
import { airSource } from '../../layers/plan/air-layers.ts';
import { damSource } from '../../layers/plan/dam-layers.ts';
import { validateStyleMin } from '@maplibre/maplibre-gl-style-spec';

/** Out of date on the map: the layers of one source stand pale, others as they were made. */

test('a source fades and comes back to just what the style says', () => {
  const made: Record<string, unknown> = {};
  for (const layer of mapStyle().layers) {
    for (const [name, value] of Object.entries(layer.paint ?? {})) made[`${layer.id} ${name}`] = value; // prettier-ignore
  }
  const paint = { ...made };
  const touched = new Set<string>();
  const fade = fader(
    {
      setPaintProperty(layer, name, value) {
        touched.add(layer);
        paint[`${layer} ${name}`] = value;
        return undefined as never;
      },
    },
    (act) => act(),
  );
  fade(new Set([airSource, damSource]));
  const of = (source: string) => mapStyle().layers.flatMap((one) => ('source' in one && one.source === source ? [one.id] : [])); // prettier-ignore
  expect([...touched].sort()).toEqual([...of(airSource), ...of(damSource)].sort());
  for (const id of touched) {
    const opacities = Object.entries(paint).filter(([key]) => key.startsWith(`${id} `) && key.endsWith('-opacity')); // prettier-ignore
    expect(opacities.length).toBeGreaterThan(0);
    for (const [key, value] of opacities) {
      const own = made[key] ?? 1;
      if (typeof own === 'number') expect(value as number).toBeLessThan(own / 2);
      else expect(value).toEqual(['*', expect.any(Number), own]);
    }
  }
  touched.clear();
  fade(new Set([damSource]));
  expect([...touched].sort()).toEqual(of(airSource).sort());
  fade(new Set());
  for (const [key, value] of Object.entries(paint)) expect(value).toEqual(made[key] ?? 1);
});

test('a faded style is still one that the map takes', () => {
  const style = structuredClone(mapStyle());
  const byId = new Map(style.layers.map((layer) => [layer.id, layer]));
  const fade = fader(
    {
      setPaintProperty(id, name, value) {
        const layer = byId.get(id)!;
        layer.paint = { ...layer.paint, [name]: value } as never;
        return undefined as never;
      },
    },
    (act) => act(),
  );
  fade(new Set(Object.keys(style.sources)));
  expect(validateStyleMin(style)).toEqual([]);
});
