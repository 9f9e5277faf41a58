import { zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { memorySource, type ByteSource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import { sortFiles } from '../../geo/formats/sort-files.ts';
import { unzipTiles } from '../../geo/formats/tile-zip.ts';
import { files, utf8 } from '../vector-rig.ts';

// What each dropped file goes to, and zips of elevation. The zips are fflate's, not our own.

const GRID =
  'ncols 3\nnrows 3\nxllcorner 500000\nyllcorner 4000000\ncellsize 1\n1 2 3\n4 5 6\n7 8 9\n';
const GEOJSON = '{"type":"FeatureCollection","features":[]}';
const KML = '<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"/>';
const GPX = '<?xml version="1.0"?><gpx version="1.1"/>';
const SHP = new Uint8Array([0, 0, 0x27, 0x0a, ...new Uint8Array(96)]);

type Given = Record<string, Uint8Array | string>;

/** Names by where they go. */
async function sorted(given: Given) {
  const sources = files(given);
  const places = await sortFiles(sources);
  const names = (list: readonly number[]) => list.map((place) => sources[place].name).sort();
  return {
    projects: names(places.projects),
    drawings: names(places.drawings),
    grounds: names(places.grounds),
  };
}

function zip(parts: Given): Uint8Array {
  return zipSync(
    Object.fromEntries(
      Object.entries(parts).map(([name, part]) => [
        name,
        typeof part === 'string' ? utf8(part) : part,
      ]),
    ),
  );
}

describe('sorting a drop', () => {
  test('goes by content, whatever the files are called', async () => {
    const drop = {
      'a.txt': GEOJSON,
      'b.dat': KML,
      c: GPX,
      'd.geojson': '1 2 3',
      'dem.asc': GRID,
      'shots.csv': 'x,y,z\n1,2,3\n',
      'dem.tif': new Uint8Array([0x49, 0x49, 0x2a, 0, 8, 0, 0, 0]),
    };
    expect(await sorted(drop)).toEqual({
      projects: [],
      // The last holds none, but its name says that it should: the reader of drawings says so.
      drawings: ['a.txt', 'b.dat', 'c', 'd.geojson'],
      grounds: ['dem.asc', 'dem.tif', 'shots.csv'],
    });
  });

  test('parts of a shapefile go with their .shp, a lone .prj with the elevation', async () => {
    const drop = {
      'lot.SHP': SHP,
      'lot.dbf': new Uint8Array(40),
      'lot.prj': 'GEOGCS[]',
      'lot.shp.xml': '<metadata/>',
      'dem.prj': 'PROJCS[]',
      'dem.asc': GRID,
      'dem.asc.aux.xml': '<PAMDataset/>',
    };
    expect(await sorted(drop)).toEqual({
      projects: [],
      drawings: ['lot.SHP', 'lot.dbf', 'lot.prj', 'lot.shp.xml'],
      grounds: ['dem.asc', 'dem.asc.aux.xml', 'dem.prj'],
    });
    const alone = await sorted({ 'lot.dbf': new Uint8Array(40), 'lot.prj': 'GEOGCS[]' });
    expect(alone.drawings).toEqual(['lot.dbf', 'lot.prj']);
  });

  test('a zip is a project, a drawing, tiles, or both of the last two', async () => {
    const drop = {
      'project.zip': zip({ 'mine/plan.geojson': GEOJSON, 'mine/settings.json': '{}' }),
      'parcels.zip': zip({ 'parcels.shp': SHP, 'parcels.dbf': '' }),
      'walk.kmz': zip({ 'doc.kml': KML, 'icon.png': '' }),
      'tiles.zip': zip({ 'a.asc': GRID, 'a.prj': '', 'readme.txt': '' }),
      'shots.zip': zip({ 'shots.csv': 'x,y,z' }),
      'both.zip': zip({ 'lot.shp': SHP, 'dem.tif': '' }),
      'empty.zip': zip({ 'letter.docx': '' }),
      'cut.zip': zip({ 'a.asc': GRID }).slice(0, 60),
    };
    expect(await sorted(drop)).toEqual({
      projects: ['project.zip'],
      drawings: ['both.zip', 'cut.zip', 'empty.zip', 'parcels.zip', 'walk.kmz'],
      grounds: ['both.zip', 'shots.zip', 'tiles.zip'],
    });
  });

  test('a file that cannot be read goes by its name', async () => {
    const gone = (name: string): ByteSource => ({
      name,
      size: 10,
      read: () => Promise.reject(new DOMException('gone', 'NotReadableError')),
    });
    const places = await sortFiles([gone('walk.gpx'), gone('dem.tif')]);
    expect(places).toEqual({ projects: [], drawings: [0], grounds: [1] });
  });
});

describe('a zip of tiles', () => {
  const unzip = (given: Given) => unzipTiles(files(given), {});

  test('opens as its files would, deflated or stored; only elevation comes out', async () => {
    const inside = { 'a/dem.asc': GRID, 'a/dem.prj': 'x', 'b.pdf': 'x', '../out.asc': GRID };
    const parts = Object.fromEntries(Object.entries(inside).map(([k, v]) => [k, utf8(v)]));
    for (const level of [0, 6] as const) {
      const unzipped = await unzip({ 't.zip': zipSync(parts, { level }), 'loose.asc': GRID });
      if (!unzipped.ok) throw new Error(unzipped.problem.what);
      expect(unzipped.value.map(({ name }) => name)).toEqual(['dem.asc', 'dem.prj', 'loose.asc']);
      const choices = { epsg: 26918, verticalUnit: 'metre' } as const;
      const [opened, loose] = await Promise.all([
        openGround([unzipped.value[0]], choices),
        openGround(files({ 'dem.asc': GRID }), choices),
      ]);
      if (opened.kind !== 'opened' || loose.kind !== 'opened')
        throw new Error(JSON.stringify(opened));
      expect([...opened.grid.data]).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9]);
      expect(opened.grid.data).toEqual(loose.grid.data);
    }
  });

  test('what promises more than a gigabyte is refused before anything is unpacked', async () => {
    const bytes = zip({ 'dem.tif': GRID });
    // APPNOTE 4.3.12: the size unpacked stands 24 bytes into the directory's entry.
    const at = bytes.findIndex((_, i) => bytes[i] === 0x50 && bytes[i + 2] === 1);
    new DataView(bytes.buffer, bytes.byteOffset).setUint32(at + 24, 0x7fffffff, true);
    const reads: number[] = [];
    const source = memorySource('t.zip', bytes);
    const counted = {
      ...source,
      read: (offset: number, length: number) => {
        reads.push(length);
        return source.read(offset, length);
      },
    };
    const unzipped = await unzipTiles([counted], {});
    expect(unzipped).toMatchObject({ ok: false, problem: { code: 'zip-too-large' } });
    expect(!unzipped.ok && unzipped.problem.what).toContain('2,147 MB');
    expect(reads).toHaveLength(3);
  });

  test('damaged, locked and stopped are said', async () => {
    const bytes = zip({ 'dem.asc': GRID.repeat(50) });
    const broken = bytes.slice();
    broken[60] ^= 0xff;
    expect(await unzip({ 't.zip': broken })).toMatchObject({ problem: { code: 'zip-damaged' } });
    const locked = bytes.slice();
    const at = locked.findIndex((_, i) => locked[i] === 0x50 && locked[i + 2] === 1);
    locked[at + 8] |= 1;
    expect(await unzip({ 't.zip': locked })).toMatchObject({ problem: { code: 'zip-method' } });
    const stopped = await unzipTiles(files({ 't.zip': bytes }), { shouldStop: () => true });
    expect(stopped).toMatchObject({ problem: { code: 'stopped' } });
  });
});
