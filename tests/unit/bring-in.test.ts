import { describe, expect, test } from 'vitest';
import * as model from '../../app/store/bring-in.ts';
import { countWords, faultWords, itemFacts, turnedWords } from '../../app/words/bring-in-words.ts';
import { bringIn, type BringPick } from '../../geo/formats/vector/bring-in.ts';
import { drawingLook, type DrawingLook } from '../../geo/formats/vector/drawing-look.ts';
import { thinShapes } from '../../geo/formats/vector/thin-shapes.ts';
import type { OpenedVectors } from '../../geo/formats/vector/vector-types.ts';
import { measurePolygon } from '../../geo/frame/geodesic.ts';
import type { PlanGeometry, Position } from '../../geo/plan/feature.ts';
import { kinds, kindNames } from '../../geo/plan/kinds.ts';
import type { Work } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { opened } from '../vector-rig.ts';

// A drawing between its file and the plan: the list, the choices, what comes of them.

function run<T>(work: Work<T>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

const [LNG, LAT] = [-75, 36];
/** A rectangle of so many thousandths of a degree. */
const box = (x: number, y: number, w: number, h: number): Position[] => [
  [LNG + x / 1000, LAT + y / 1000],
  [LNG + (x + w) / 1000, LAT + y / 1000],
  [LNG + (x + w) / 1000, LAT + (y + h) / 1000],
  [LNG + x / 1000, LAT + (y + h) / 1000],
  [LNG + x / 1000, LAT + y / 1000],
];

const feature = (geometry: object, properties: object = {}) => ({
  type: 'Feature',
  properties,
  geometry,
});
const outline = (...args: Parameters<typeof box>) => ({
  type: 'Polygon',
  coordinates: [box(...args)],
});
const geojson = (...features: object[]) => JSON.stringify({ type: 'FeatureCollection', features });

/** A walk round a square of 100 m sides, a point every 5 m and 4 s, with a spike and an open end. */
function walk(): string {
  const metersPerDegree = 111_000;
  const east = metersPerDegree * Math.cos((LAT * Math.PI) / 180);
  const random = seeded(7);
  const points: string[] = [];
  for (let i = 0; i < 78; i++) {
    const along = i * 5;
    const side = Math.floor(along / 100);
    const on = along % 100;
    const [x, y] = [
      [on, 0],
      [100, on],
      [100 - on, 100],
      [0, 100 - on],
    ][side];
    const away = i === 30 ? 300 : 0;
    const lng = LNG + (x + away + random() - 0.5) / east;
    const lat = LAT + (y + random() - 0.5) / metersPerDegree;
    const time = new Date(Date.UTC(2026, 3, 1) + i * 4000).toISOString();
    points.push(`<trkpt lat="${lat}" lon="${lng}"><time>${time}</time></trkpt>`);
  }
  return `<gpx version="1.1"><wpt lat="36" lon="-75"><name>Gate</name></wpt><trk><name>Edge</name><trkseg>${points.join('')}</trkseg></trk></gpx>`;
}

const parcels = geojson(
  feature(outline(0, 0, 4, 4), { name: 'Home', OWNER: 'A. Nobody', PIN: '14-22' }),
  feature(outline(5, 0, 4, 4), { name: 'Back', OWNER: 'B. Nobody', PIN: '14-23' }),
  feature({ type: 'Point', coordinates: [LNG, LAT] }, { name: 'Gate' }),
);

const look = async (given: Record<string, string>, choices = {}): Promise<DrawingLook> =>
  run(drawingLook(await opened(given, choices)));
const begin = async (given: Record<string, string>) =>
  model.beginBringIn('x', await look(given), { site: null, isDemo: false });

describe('the list of a drawing', () => {
  test('groups by layer, measures on the ellipsoid, leaves people out', async () => {
    const of = await look({ 'lots.geojson': parcels, 'walk.gpx': walk() });
    expect(of.groups.map(({ file, columns }) => [file, columns])).toEqual([
      ['lots.geojson', ['name', 'PIN']],
      ['walk.gpx', []],
      ['walk.gpx', []],
    ]);
    expect(of.items.map(({ group, sort }) => [group, sort])).toEqual([
      [0, 'shape'],
      [0, 'shape'],
      [0, 'shape'],
      [1, 'waypoint'],
      [2, 'track'],
    ]);
    // 0.004° at 36° N: 360.6 m by 443.8 m, from the radii of curvature of WGS 84 (by hand).
    expect(of.items[0].areaSquareMeters! / (360.6 * 443.8)).toBeCloseTo(1, 3);
    expect(of.bounds[0]).toBeCloseTo(-75.00001, 4);
    expect(countWords(of.items)).toBe('2 areas, 1 point, 1 waypoint, 1 track');
    const kept = await look({ 'lots.geojson': parcels }, { keepPersonal: true });
    expect(kept.groups[0].columns).toEqual(['name', 'OWNER', 'PIN']);
  });

  test('an outline that crosses itself is named, and no acres are made up for it', async () => {
    const [a, b, c, d] = box(0, 0, 2, 2);
    const of = await look({
      'x.geojson': geojson(feature({ type: 'Polygon', coordinates: [[a, c, b, d, a]] })),
    });
    expect(of.items[0].areaSquareMeters).toBeNull();
    expect(faultWords(of.items[0])).toMatch(/^Crosses itself/);
  });
});

describe('the picture of a large drawing', () => {
  test('is thinned to under 60,000 positions, none farther off than a 4,000th', () => {
    const random = seeded(3);
    let [x, y] = [LNG, LAT];
    const line = Array.from({ length: 90_000 }, (): Position => {
      x += random() * 1e-5;
      y += random() * 1e-5;
      return [x, y];
    });
    const bounds = [
      Math.min(...line.map((p) => p[0])),
      Math.min(...line.map((p) => p[1])),
      Math.max(...line.map((p) => p[0])),
      Math.max(...line.map((p) => p[1])),
    ] as const;
    const tiny: PlanGeometry = { type: 'Polygon', coordinates: [box(0, 0, 1e-3, 1e-3)] };
    const whole: PlanGeometry = { type: 'LineString', coordinates: line };
    const [thin, small] = run(thinShapes([whole, tiny], bounds));
    if (thin?.type !== 'LineString' || small?.type !== 'Polygon') throw new Error('no line');
    expect(thin.coordinates.length).toBeLessThan(60_000);
    // Still an outline: three corners or more, closed.
    expect(small.coordinates[0].length).toBeGreaterThanOrEqual(4);
    expect(small.coordinates[0].at(-1)).toEqual(small.coordinates[0][0]);
    const shrink = Math.cos((LAT * Math.PI) / 180);
    const most = Math.hypot((bounds[2] - bounds[0]) * shrink, bounds[3] - bounds[1]) / 4000;
    let piece = 0;
    let worst = 0;
    for (const position of line) {
      if (thin.coordinates[piece + 1] === position) piece++;
      worst = Math.max(worst, away(position, thin.coordinates.slice(piece, piece + 2), shrink));
    }
    expect(worst / most).toBeLessThan(1.001);
    expect(worst).toBeGreaterThan(0);
  });
});

/** Distance of a position from a piece of a line, degrees of latitude. */
function away([x, y]: Position, [a, b = a]: readonly Position[], shrink: number): number {
  const [dx, dy] = [(b[0] - a[0]) * shrink, b[1] - a[1]];
  const [px, py] = [(x - a[0]) * shrink, y - a[1]];
  const length = dx * dx + dy * dy;
  const t = length > 0 ? Math.min(1, Math.max(0, (px * dx + py * dy) / length)) : 0;
  return Math.hypot(px - t * dx, py - t * dy);
}

describe('the choices', () => {
  test('begin with everything taken as what is suggested, tracks to be cleaned', async () => {
    const bring = await begin({ 'lots.geojson': parcels, 'walk.gpx': walk() });
    expect(bring.picks.map(({ taken, kind, clean }) => [taken, kind, clean !== null])).toEqual([
      [true, 'property-line', false],
      [true, 'property-line', false],
      [true, 'access-point', false],
      [true, 'access-point', false],
      [true, 'plot', true],
    ]);
    expect(model.nextToClean(bring)).toBe(4);
    expect(model.takenCount(bring)).toBe(5);
  });

  test('of a county only what meets the site is taken', async () => {
    const many = geojson(
      ...Array.from({ length: 60 }, (_, i) => feature(outline(i * 3, 0, 2, 2), { PIN: `${i}` })),
    );
    const county = await look({ 'county.geojson': many });
    const taken = (site: DrawingLook['bounds'] | null, isDemo = false) => {
      const bring = model.beginBringIn('x', county, { site, isDemo });
      return [model.takenCount(bring), bring.where];
    };
    // The site reaches from the 4th lot (9 to 11 thousandths) into the 6th (15 to 17).
    expect(taken([LNG + 0.0105, LAT, LNG + 0.0155, LAT + 0.001])).toEqual([3, 'here']);
    expect(taken(null)).toEqual([60, 'here']);
    expect(taken([0, 0, 1, 1])).toEqual([60, 'elsewhere']);
    expect(taken([0, 0, 1, 1], true)).toEqual([60, 'elsewhere-than-demo']);
  });

  test('every kind that is offered for a geometry can be made of it', async () => {
    const drawing = await opened({
      'all.geojson': geojson(
        feature({ type: 'Point', coordinates: [LNG, LAT] }),
        feature({ type: 'LineString', coordinates: box(0, 0, 1, 1).slice(0, 3) }),
        feature(outline(0, 0, 1, 1)),
      ),
    });
    drawing.features.forEach(({ geometry }, index) => {
      const offered = model.kindsFor(geometry.type);
      const picks = kindNames.map((kind): BringPick => ({ index, kind, name: null, clean: null }));
      const { features } = run(bringIn(drawing.features, picks, ids()));
      expect(features.map(({ kind }) => kind)).toEqual(offered);
      for (const one of features) {
        expect(one.geometry.type).toBe(model.turnsInto(geometry.type, one.kind));
      }
    });
    expect(turnedWords('LineString', 'plot')).toBe('closed into an outline');
    expect(turnedWords('Polygon', 'lane')).toBe('its outline as a line');
    expect(turnedWords('LineString', 'lane')).toBe('');
  });

  test('a kind is set where it fits; cleaning is worked out anew where the shape changes', async () => {
    let bring = await begin({ 'lots.geojson': parcels, 'walk.gpx': walk() });
    const cleaned = {
      geometry: { type: 'LineString' as const, coordinates: box(0, 0, 1, 1) },
      areaSquareMeters: 4046.8564224,
      lengthMeters: 1,
      said: [],
    };
    const of = bring.picks[4]!;
    bring = model.setCleaned(bring, 4, of, cleaned);
    expect(model.nextToClean(bring)).toBeNull();
    expect(itemFacts(bring.look.items[4]!, bring.picks[4]!, 'us')).toBe('track, 1.00 ac');
    expect(model.setKind(bring, [4], 'no-go').picks[4]!.cleaned).toBe(cleaned);
    const lane = model.setKind(bring, [4], 'lane');
    expect(lane.picks[4]!.cleaned).toBeNull();
    // What was asked for before the change comes too late.
    expect(model.setCleaned(lane, 4, of, cleaned).picks[4]!.cleaned).toBeNull();
    expect(model.setClean(bring, 4, null).picks[4]).toMatchObject({ clean: null, cleaned: null });
    const all = model.setKind(bring, [0, 1, 2], 'plot');
    expect(all.picks.slice(0, 3).map(({ kind }) => kind)).toEqual(['plot', 'plot', 'access-point']);
    expect(model.commonKind(all, model.itemsOf(all, 0))).toBeNull();
    expect(model.commonKind(bring, model.itemsOf(bring, 2))).toBe('plot');
  });

  test('names come from a column and go back; reading anew keeps the other choices', async () => {
    let bring = await begin({ 'lots.geojson': parcels });
    bring = model.setNames(bring, 0, 'PIN', { 0: '14-22', 1: '14-23' });
    expect(model.chosen(bring).map(({ name }) => name)).toEqual(['14-22', '14-23', null]);
    bring = model.take(model.setKind(bring, [0], 'plot'), [1], false);
    const kept = await look({ 'lots.geojson': parcels }, { keepPersonal: true });
    bring = model.readAnew(bring, kept, true);
    expect(bring.nameFrom).toEqual({});
    expect(model.chosen(bring).map(({ index, kind, name }) => [index, kind, name])).toEqual([
      [0, 'plot', null],
      [2, 'access-point', null],
    ]);
    expect(model.setNames(bring, 0, '', { 0: 'x' }).picks[0]!.name).toBeNull();
  });

  test('a tap on the map takes or leaves; the picture follows', async () => {
    const bring = model.tapItem(await begin({ 'lots.geojson': parcels }), 1);
    expect([bring.tapped, bring.picks[1]!.taken]).toEqual([1, false]);
    expect(model.previewMarks(bring).map(({ role }) => role)).toEqual(['taken', 'left', 'taken']);
    expect(model.tapItem(bring, 99)).toBe(bring);
  });
});

function ids(): () => string {
  let next = 0;
  return () => `id${next++}`;
}

describe('bringing in', () => {
  const pick = (index: number, kind: BringPick['kind'], clean = true): BringPick => ({
    index,
    kind,
    name: null,
    clean: clean ? model.firstWalkChoices : null,
  });
  const walked = async (): Promise<OpenedVectors> => opened({ 'walk.gpx': walk() });

  test('a walked edge comes in closed and without its spike, a lane stays open', async () => {
    const { features } = await walked();
    const brought = run(bringIn(features, [pick(1, 'plot'), pick(1, 'lane')], ids()));
    const [plot, lane] = brought.features;
    if (plot.geometry.type !== 'Polygon') throw new Error(plot.geometry.type);
    // The square's 10,000 m², walked within half a metre: at most 400 m of edge half a metre off.
    const { areaSquareMeters } = measurePolygon(plot.geometry.coordinates);
    expect(Math.abs(areaSquareMeters - 10_000)).toBeLessThan(200 + 50);
    expect(plot.name).toBe('Edge');
    expect(lane.geometry.type).toBe('LineString');
    const raw = run(bringIn(features, [pick(1, 'lane', false)], ids())).features[0];
    expect(raw.geometry.type === 'LineString' && raw.geometry.coordinates).toHaveLength(78);
    expect(brought.leftOut).toEqual([]);
  });

  test('a crossed outline comes in and is told; what does not fit is told and left', async () => {
    const [a, b, c, d] = box(0, 0, 2, 2);
    const { features } = await opened({
      'x.geojson': geojson(
        feature({ type: 'Polygon', coordinates: [[a, c, b, d, a]] }, { name: 'Bow' }),
        feature(outline(0, 0, 1, 1), { name: 'Sound' }),
      ),
    });
    const picks: BringPick[] = [
      { index: 0, kind: 'plot', name: null, clean: null },
      { index: 1, kind: 'stand', name: null, clean: null },
      { index: 1, kind: 'plot', name: 'Renamed', clean: null },
    ];
    const brought = run(bringIn(features, picks, ids()));
    expect(brought.features.map(({ id, name }) => [id, name])).toEqual([
      ['id0', 'Bow'],
      ['id2', 'Renamed'],
    ]);
    expect(brought.faultyIds).toEqual(['id0']);
    expect(brought.leftOut).toEqual([
      { name: 'Sound', problem: expect.objectContaining({ code: 'vector-kind' }) },
    ]);
    expect(() => run(bringIn(features, [{ ...picks[0], index: 9 }], ids()))).toThrow(RangeError);
    expect(kinds.stand.geometry).toEqual(['Point']);
  });
});
