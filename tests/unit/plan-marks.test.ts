import { Geodesic } from 'geographiclib-geodesic';
import { describe, expect, test } from 'vitest';
import { parseFeature, type PlanFeature, type Position } from '../../geo/plan/feature.ts';
import { kinds, type Kind } from '../../geo/plan/kinds.ts';
import { solidParts } from '../../geo/debris/berm-parts.ts';
import { featureMarks } from '../../layers/plan/feature-marks.ts';
import { labelPoint } from '../../layers/plan/label-point.ts';
import { bandAround, lineLength, linePart, placeAt } from '../../geo/plan/line-geometry.ts';
import { localPlane, type Point } from '../../layers/plan/local-plane.ts';
import { markFeatures } from '../../layers/plan/mark-features.ts';
import { drawPattern, patternNames } from '../../layers/plan/patterns.ts';
import { PlanSource } from '../../layers/plan/plan-source.ts';
import { splitPlan } from '../../layers/plan/split-plan.ts';
import { stationSpacingMeters, stationText } from '../../layers/plan/stations.ts';
import { drawSymbol, symbolNames } from '../../layers/plan/symbols.ts';
import { seeded } from '../seeded.ts';

const at: Position = [-75, 36.14];
const plane = localPlane(at);
const choices = { units: 'us', caption: '', selected: false } as const;

function made(kind: Kind, type: PlanFeature['geometry']['type'], more: object = {}): PlanFeature {
  const place = (p: Point): Position => plane.toPosition(p);
  const coordinates = {
    Point: at,
    LineString: [place([0, 0]), place([100, 0]), place([100, 60])],
    Polygon: [[place([0, 0]), place([100, 0]), place([100, 60]), place([0, 60]), place([0, 0])]],
  }[type];
  const parsed = parseFeature({
    id: `x-${kind}`,
    kind,
    name: `A ${kind}`,
    geometry: {
      type,
      coordinates,
    },
    properties: {
      ...(kind === 'no-go' ? { reason: 'wetland' } : {}),
      ...more,
    },
  });
  if (!parsed.ok) throw new Error(parsed.problem.what);
  return parsed.value;
}

describe('metres around a point', () => {
  // Truth: Karney's geodesics on WGS84 by GeographicLib, an independent library.
  test('agree with geodesics to 2 cm over 500 m, 60° N to the equator', () => {
    const next = seeded(11);
    for (let i = 0; i < 200; i++) {
      const from: Position = [-180 + 360 * next(), 60 * next()];
      const angle = 2 * Math.PI * next();
      const reach = 500 * next();
      const there = localPlane(from).toPosition([reach * Math.sin(angle), reach * Math.cos(angle)]);
      const { s12 } = Geodesic.WGS84.Inverse(from[1], from[0], there[1], there[0]);
      expect(Math.abs((s12 ?? NaN) - reach)).toBeLessThan(0.04);
    }
  });
});

describe('stations', () => {
  // 100-foot stationing as in any route-surveying text: 12+50 is 1,250 ft from the start.
  test.each([
    [0, '0+00'],
    [1250 * 0.3048, '12+50'],
    [99.6 * 0.3048, '1+00'],
    [5 * 0.3048, '0+05'],
  ])('%f m is %s', (meters, text) => expect(stationText(meters, 'us')).toBe(text));
  test('metric stations count kilometres', () =>
    expect(stationText(1234.4, 'metric')).toBe('1+234'));
  test('every 50 ft', () => expect(stationSpacingMeters('us')).toBeCloseTo(15.24, 10));
});

describe('bands and parts of lines', () => {
  const line: Point[] = [
    [0, 0],
    [100, 0],
    [100, 60],
  ];
  test('a straight band is a rectangle of length times width', () => {
    const ring = bandAround(line.slice(0, 2), 8);
    expect(Math.abs(area(ring))).toBeCloseTo(800, 9);
  });
  test('a square corner keeps its width: area is the two legs and the corner square', () => {
    // Outer corner adds (w/2)², inner corner takes (w/2)²: length × width remains.
    expect(Math.abs(area(bandAround(line, 8)))).toBeCloseTo(160 * 8, 9);
  });
  test('a hairpin does not run out to a spike', () => {
    const ring = bandAround([[0, 0], [50, 0], [0, 1]], 8); // prettier-ignore
    expect(Math.max(...ring.map(([x]) => x))).toBeLessThan(50 + 8 * 1.3);
  });
  test('a part keeps the corners between its ends', () => {
    expect(linePart(line, 90, 110)).toEqual([[90, 0], [100, 0], [100, 10]]); // prettier-ignore
    expect(lineLength(linePart(line, -5, 500))).toBeCloseTo(160, 9);
    expect(linePart(line, 40, 40)).toEqual([]);
  });
  test('places hold to the ends and pass over repeated points', () => {
    expect(placeAt([[0, 0], [0, 0], [0, 9], [0, 9]], 100).at).toEqual([0, 9]); // prettier-ignore
    expect(() => placeAt([[1, 1], [1, 1]], 0)).toThrow(RangeError); // prettier-ignore
  });
  test('berm gaps are centred on their stations and may overlap or pass the ends', () => {
    expect(solidParts(100, [])).toEqual([[0, 100]]);
    expect(solidParts(100, [{ stationMeters: 50, widthMeters: 10 }])).toEqual([[0, 45], [55, 100]]); // prettier-ignore
    expect(
      solidParts(100, [
        { stationMeters: 98, widthMeters: 10 },
        { stationMeters: 0, widthMeters: 6 },
        { stationMeters: 40, widthMeters: 20 },
        { stationMeters: 45, widthMeters: 2 },
      ]),
    ).toEqual([[3, 30], [50, 93]]); // prettier-ignore
  });
});

function area(ring: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < ring.length; i++) {
    sum += ring[i - 1][0] * ring[i][1] - ring[i][0] * ring[i - 1][1];
  }
  return sum / 2;
}

test('a label sits inside a horseshoe and clear of a hole', () => {
  const horseshoe: Point[] = [
    ...([[0, 0], [100, 0], [100, 100], [70, 100], [70, 30], [30, 30], [30, 100], [0, 100], [0, 0]] as Point[]), // prettier-ignore
  ];
  const [x, y] = labelPoint([horseshoe]);
  expect(x > 30 && x < 70 && y > 30).toBe(false);
  expect(x > 10 && x < 90 && y > 10 && y < 90).toBe(true);
  const square: Point[] = [[0, 0], [90, 0], [90, 90], [0, 90], [0, 0]]; // prettier-ignore
  const hole: Point[] = [[20, 20], [89, 20], [89, 89], [20, 89], [20, 20]]; // prettier-ignore
  const [hx, hy] = labelPoint([square, hole]);
  // The widest room is the corner square of 20 m, on its diagonal.
  expect(Math.hypot(hx - 11.7, hy - 11.7)).toBeLessThan(3);
});

describe('every kind has a look', () => {
  const everything = (Object.keys(kinds) as Kind[]).flatMap((kind) =>
    kinds[kind].geometry.map((type) => [kind, type] as const),
  );
  test.each(everything)('%s as %s', (kind, type) => {
    const feature = made(kind, type);
    const marks = featureMarks(feature, choices);
    expect(marks.length).toBeGreaterThan(0);
    // A colour never stands alone: a pattern, a dash, a symbol or a word goes with it.
    expect(marks.some((m) => m.mark !== 'fill' && m.mark !== 'stroke')).toBe(true);
    // The name is written somewhere.
    expect(
      marks.some(
        (m) => (m.mark === 'label' || m.mark === 'line-text') && m.text.includes(feature.name),
      ),
    ).toBe(true);
    for (const mark of marks) {
      if (mark.mark === 'pattern') expect(patternNames).toContain(mark.pattern);
      if (mark.mark === 'symbol') expect(symbolNames).toContain(mark.symbol);
      expect(JSON.stringify(mark.geometry)).not.toMatch(/null/);
    }
    const selected = featureMarks(feature, { ...choices, selected: true });
    expect(selected.some((m) => 'color' in m && m.color === '#a3195b')).toBe(true);
    expect(featureMarks({ ...feature, hidden: true }, choices)).toEqual([]);
  });

  test('a berm is drawn to scale with open gaps: its bands cover length less gaps, times width, round at their ends', () => {
    const gaps = [{ stationMeters: 50, widthMeters: 5 }];
    const berm = made('berm', 'LineString', { baseWidthMeters: 8, gaps });
    const bands = featureMarks(berm, choices).filter((m) => m.mark === 'fill');
    const total = bands.reduce((sum, { geometry }) => {
      if (geometry.type !== 'Polygon') throw new Error(geometry.type);
      return sum + Math.abs(area(geometry.coordinates[0].map(plane.toPlane)));
    }, 0);
    expect(bands).toHaveLength(2);
    // Each is 8 m shorter between two halves of a circle of 32 chords.
    const circle = 16 * 4 * 4 * Math.sin(Math.PI / 16);
    expect(total).toBeCloseTo((160 - 5 - 2 * 8) * 8 + 2 * circle, 3);
    const stations = featureMarks(berm, choices).flatMap((m) =>
      m.mark === 'label' && m.text === '' ? [m.caption] : [],
    );
    // 160 m is 525 ft: stations 0+00 to 5+00 by 50 ft.
    expect(stations).toHaveLength(11);
    expect(stations.at(-1)).toBe('5+00');
  });

  test('stations of a berm with returned ends stand outside its corners, in the order they give way', () => {
    const u: Point[] = [[0, 0], [0, -60], [100, -60], [100, 0]]; // prettier-ignore
    for (const line of [u, u.toReversed()]) {
      const coordinates = line.map((p) => plane.toPosition(p));
      const berm = { ...made('berm', 'LineString'), geometry: { type: 'LineString', coordinates } } as PlanFeature; // prettier-ignore
      for (const selected of [false, true]) {
        const stations = featureMarks(berm, { ...choices, selected }).flatMap((m) => m.mark === 'label' && m.isFixed ? [m] : []); // prettier-ignore
        // 220 m are 722 ft: 0+00 to 7+00 by 50 ft.
        expect(stations.map(({ caption }) => caption).at(-1)).toBe('7+00');
        for (const { geometry } of stations) {
          const [x, y] = plane.toPlane((geometry as { coordinates: Position }).coordinates);
          expect(x < 0 || x > 100 || y < -60).toBe(true);
        }
        const ranks = stations.slice(0, 4).map((m) => m.rank);
        expect(ranks.map((r) => r - ranks[0]!)).toEqual([0, 3, 2, 3]);
      }
    }
  });

  test('the name of a berm is turned along it and never upside down', () => {
    const berm = made('berm', 'LineString');
    for (const [x, y, turn] of [
      [100, 0, 0],
      [-100, 0, 0],
      [100, 100, -45],
      [-100, 100, 45],
    ] as const) {
      const coordinates = [at, plane.toPosition([x, y])];
      const drawn = featureMarks(
        { ...berm, geometry: { type: 'LineString', coordinates } },
        choices,
      );
      const label = drawn.find((m) => m.mark === 'label' && m.text === berm.name);
      if (label?.mark !== 'label') throw new Error('no label');
      expect(label.turnDegrees).toBeCloseTo(turn, 6);
    }
  });

  test('a stand has a tick at its true bearing, and none when nobody said', () => {
    const facing = featureMarks(made('stand', 'Point', { facingDegrees: 261 }), choices);
    expect(facing.find((m) => m.mark === 'symbol' && m.symbol === 'facing')).toMatchObject({
      bearingDegrees: 261,
    });
    const open = featureMarks(made('stand', 'Point'), choices);
    expect(open.some((m) => m.mark === 'symbol' && m.symbol === 'facing')).toBe(false);
  });
});

describe('pictures', () => {
  test.each(patternNames)('pattern %s joins itself on all sides', (name) => {
    const { width, height, data } = drawPattern(name, 2);
    // A seam shows as a jump between the last and first rows larger than any inside.
    const alpha = (c: number, r: number) => data[(((r + height) % height) * width + ((c + width) % width)) * 4 + 3]; // prettier-ignore
    let inside = 0;
    let seam = 0;
    for (let r = 0; r < height; r++) {
      for (let c = 0; c < width; c++) {
        const jump = Math.max(
          Math.abs(alpha(c, r) - alpha(c + 1, r)),
          Math.abs(alpha(c, r) - alpha(c, r + 1)),
        );
        if (c === width - 1 || r === height - 1) seam = Math.max(seam, jump);
        else inside = Math.max(inside, jump);
      }
    }
    expect(inside).toBeGreaterThan(0);
    expect(seam).toBeLessThanOrEqual(inside);
  });
  test('symbols are as fine as the screen', () => {
    for (const name of symbolNames) {
      const [one, two] = [drawSymbol(name, false, 1), drawSymbol(name, true, 2)];
      expect([two.width, two.height]).toEqual([one.width * 2, one.height * 2]);
      expect(one.data.some((v) => v > 0)).toBe(true);
    }
  });
});

describe('changes of the plan reach the map by id', () => {
  const diffs: { add?: { id?: unknown }[]; remove?: unknown[] }[] = [];
  const source = new PlanSource({ updateData: (diff) => diffs.push(diff as never) });
  const plot = made('plot', 'Polygon');
  const stand = made('stand', 'Point');
  const nothing: ReadonlySet<string> = new Set();
  const view = { selectedIds: nothing, draft: null, captions: {}, units: 'us' } as const;
  test('only what changed is sent', () => {
    source.show(splitPlan({ ...view, features: [plot, stand] }).committed);
    const keys = new Set(diffs[0].add!.map((f) => f.id));
    expect(keys.size).toBe(diffs[0].add!.length);
    expect(source.show(splitPlan({ ...view, features: [plot, stand] }).committed)).toBe(false);
    const renamed = { ...stand, name: 'B' };
    source.show(splitPlan({ ...view, features: [plot, renamed] }).committed);
    expect(diffs[1].add!.every((f) => String(f.id).startsWith('x-stand/'))).toBe(true);
    source.show(splitPlan({ ...view, features: [plot] }).committed);
    expect(diffs[2].add).toEqual([]);
    expect(diffs[2].remove!.length).toBe(markFeatures(stand, choices).length);
  });
  test('the selected one and the draft lie in the editing source only', () => {
    const moved = { ...plot, name: 'moved' };
    const split = splitPlan({
      ...view,
      features: [plot, stand],
      selectedIds: new Set([plot.id]),
      draft: moved,
    });
    expect(split.committed.map((d) => d.feature)).toEqual([stand]);
    expect(split.editing.map((d) => d.feature)).toEqual([moved]);
    const fresh = splitPlan({ ...view, features: [stand], draft: { ...plot, id: 'new' } });
    expect(fresh.editing).toHaveLength(1);
  });
});

test('an outline whose loops cancel each other is still traced', () => {
  const place = (p: Point): Position => plane.toPosition(p);
  const stroke = (corners: readonly Point[]) => {
    const ring = [...corners, corners[0]!].map(place);
    const plot = { ...made('plot', 'Polygon'), geometry: { type: 'Polygon', coordinates: [ring] } };
    const marks = markFeatures(plot as PlanFeature, choices);
    return marks.find(({ properties }) => properties.mark === 'stroke')!.geometry;
  };
  const tie: Point[] = [
    [0, 0],
    [100, 60],
    [100, 0],
    [0, 60],
  ];
  const traced = stroke(tie);
  expect(traced.type).toBe('MultiLineString');
  expect(traced.type === 'MultiLineString' && traced.coordinates[0]).toHaveLength(5);
  expect(stroke([tie[0]!, tie[2]!, tie[1]!, tie[3]!]).type).toBe('Polygon');
});
