import { describe, expect, it } from 'vitest';
import { sitePlace } from '../../app/page/conditions/site-place.ts';
import { firstWindow, movedWindow, resizedWindow } from '../../app/page/opening/window-choice.ts';
import { sectionNames, sectionState } from '../../app/page/worksheet/section-states.ts';
import { session, type Session } from '../../app/store/session.ts';
import type { PhotoRecord } from '../../geo/raster/photo-record.ts';
import { parseFeature, type PlanFeature } from '../../geo/plan/feature.ts';

function feature(id: string, kind: string, name: string, coordinates: unknown): PlanFeature {
  const type = kind === 'plot' ? 'Polygon' : kind === 'berm' ? 'LineString' : 'Point';
  const parsed = parseFeature({ id, kind, name, geometry: { type, coordinates } });
  if (!parsed.ok) throw new Error(parsed.problem.what);
  return parsed.value;
}

const ring = [
  [-75, 36],
  [-74.99, 36],
  [-74.99, 36.01],
  [-75, 36],
];
const basis = { method: [], source: '', inputs: {}, confidence: '' };
const acre = 4046.8564224;

function state(change: Partial<Session>): Session {
  return { ...session.getInitialState(), ...change };
}

describe('how a section stands', () => {
  it('says of an empty plan what is not drawn and what this version does not answer', () => {
    const standings = sectionNames.map((name) => sectionState(name, state({})).standing);
    expect(standings).toEqual([
      'empty',
      'empty',
      'empty',
      'later',
      'empty',
      'later',
      'empty',
      'later',
    ]);
  });
  it('adds up the plots, and is answered only by answers', () => {
    const features = { a: feature('a', 'plot', 'A', [ring]), b: feature('b', 'plot', 'B', [ring]) };
    const answer = (areaSquareMeters: number, findings: readonly object[] = []) =>
      ({
        plotGround: {
          value: { areaSquareMeters, perimeterMeters: 1, terrain: null },
          findings,
          basis,
        },
      }) as unknown as Session['answers'][string];
    expect(sectionState('ground', state({ features })).standing).toBe('empty');
    const answered = { features, answers: { a: answer(3.11 * acre), b: answer(0.69 * acre) } };
    expect(sectionState('ground', state(answered))).toEqual({
      standing: 'answered',
      summary: '2 plots, 3.80 ac',
    });
    const finding = { level: 'caution', about: ['a'], code: 'plot-steep', values: {} };
    const steep = { features, answers: { a: answer(acre, [finding]), b: answer(acre) } };
    expect(sectionState('ground', state(steep)).standing).toBe('look');
    const note = { ...finding, level: 'note' };
    const noted = { features, answers: { a: answer(acre, [note]), b: answer(acre) } };
    expect(sectionState('ground', state(noted)).standing).toBe('answered');
  });
});

describe('the place of the site, for its sun', () => {
  it('is on something drawn, else in the middle of the photo, else nowhere', () => {
    expect(sitePlace(state({}))).toBeNull();
    const photoId = 'b'.repeat(64);
    const photo = { id: photoId, bounds: [-76, 35, -74, 37] } as unknown as PhotoRecord;
    const withPhoto = {
      photos: { [photoId]: photo },
      settings: { ...session.getInitialState().settings, photoId },
    };
    expect(sitePlace(state(withPhoto))).toEqual([-75, 36]);
    const features = { a: feature('a', 'plot', 'A', [ring]) };
    expect(sitePlace(state({ ...withPhoto, features }))).toEqual([-75, 36]);
    expect(sitePlace(state({ features: { s: feature('s', 'stand', 'S', [-70, 40]) } }))).toEqual([
      -70, 40,
    ]);
  });
});

describe('a part of a large raster', () => {
  const size = { fullWidth: 12_000, fullHeight: 9_000 };
  const most = 64_000_000;
  it('starts as large as may be, about the middle, in the same proportions', () => {
    const first = firstWindow(size, most);
    expect(first.width * first.height).toBeLessThanOrEqual(most);
    expect(first.width * first.height).toBeGreaterThan(most * 0.999);
    expect(first.width / first.height).toBeCloseTo(12 / 9, 3);
    expect(first.column * 2 + first.width).toBeGreaterThanOrEqual(size.fullWidth - 1);
  });
  it('takes a small raster whole', () => {
    expect(firstWindow({ fullWidth: 100, fullHeight: 80 }, most)).toEqual({
      column: 0,
      row: 0,
      width: 100,
      height: 80,
    });
  });
  it('never leaves the raster, however far it is dragged', () => {
    const first = firstWindow(size, most);
    const moved = movedWindow(first, 1e6, -1e6, size);
    expect(moved.column + moved.width).toBe(size.fullWidth);
    expect(moved.row).toBe(0);
    const grown = resizedWindow(moved, 1e6, 1e6, size);
    expect(grown.column + grown.width).toBe(size.fullWidth);
    expect(grown.row + grown.height).toBe(size.fullHeight);
    const shrunk = resizedWindow(first, -1e6, -1e6, size);
    expect([shrunk.width, shrunk.height]).toEqual([64, 64]);
  });
});
