import initGdalJs from 'gdal3.js/node.js';

/**
 * GDAL in WebAssembly as the outside reference. One instance per test file; it never touches the
 * disk except through its own in-memory file system.
 */

interface GdalDataset {
  readonly pointer: number;
}

export interface Gdal {
  /** Puts bytes where GDAL can open them and returns that path. */
  write(name: string, bytes: Uint8Array): string;
  /** Bytes of a file that GDAL made. */
  read(path: string): Uint8Array;
  open(path: string): Promise<GdalDataset>;
  close(dataset: GdalDataset): void;
  /** `gdal_translate`, `gdalwarp`, `ogr2ogr` … with their usual arguments; returns the file made. */
  run(
    tool: 'gdal_translate' | 'gdalwarp' | 'ogr2ogr' | 'gdal_rasterize',
    input: string,
    args: readonly string[],
    outputName: string,
  ): Promise<string>;
  info(path: string): Promise<Record<string, unknown>>;
  /** `gdaldem`: slope, aspect, hillshade, TRI, TPI, roughness. */
  dem(mode: string, input: string, args: readonly string[], outputName: string): Promise<string>;
  /** Transforms x,y pairs between two systems as GDAL's own transformer does. */
  transform(
    points: readonly (readonly [number, number])[],
    from: string,
    to: string,
  ): Promise<[number, number][]>;
  /** First band as float64, row 0 north, as GDAL itself reads the file (nodata left as stored). */
  band(path: string): Promise<{ width: number; height: number; data: Float64Array }>;
}

let started: Promise<Gdal> | undefined;

export function openGdal(): Promise<Gdal> {
  started ??= start();
  return started;
}

async function start(): Promise<Gdal> {
  // The library wants a relative path and a scratch name; it keeps handles open until process end.
  const lib = await initGdalJs({
    path: 'node_modules/gdal3.js/dist/package',
    dest: '/output',
    useWorker: false,
  });
  const { Module } = lib;
  const { FS } = Module;
  for (const folder of ['/input', '/output']) if (!FS.analyzePath(folder).exists) FS.mkdir(folder);

  const argv = (args: readonly string[]): number => {
    const table = Module._malloc(4 * (args.length + 1));
    args.forEach((text, i) => {
      const size = Module.lengthBytesUTF8(text) + 1;
      const at = Module._malloc(size);
      Module.stringToUTF8(text, at, size);
      Module.setValue(table + 4 * i, at, 'i32');
    });
    Module.setValue(table + 4 * args.length, 0, 'i32');
    return table;
  };

  const open = async (path: string): Promise<GdalDataset> => {
    const handle = Module.ccall(
      'GDALOpenEx',
      'number',
      ['string', 'number', 'number', 'number', 'number'],
      [path, 0, 0, 0, 0],
    );
    if (!handle) throw new Error(`GDAL could not open ${path}: ${lastError()}`);
    return { pointer: handle };
  };
  const close = (dataset: GdalDataset) =>
    Module.ccall('GDALClose', null, ['number'], [dataset.pointer]);
  const lastError = () => Module.ccall('CPLGetLastErrorMsg', 'string', [], []);

  const withDataset = async <T>(path: string, use: (dataset: GdalDataset) => Promise<T>) => {
    const dataset = await open(path);
    try {
      return await use(dataset);
    } finally {
      close(dataset);
    }
  };

  const gdal: Gdal = {
    write(name, bytes) {
      const path = `/input/${name}`;
      FS.writeFile(path, bytes);
      return path;
    },
    read: (path) => FS.readFile(path),
    open,
    close,
    run: (tool, input, args, outputName) =>
      withDataset(input, async (dataset) => {
        const made = await lib[tool](dataset, [...args], outputName.replace(/\.[^.]*$/, ''));
        return made.local;
      }),
    info: (path) => withDataset(path, async (dataset) => lib.gdalinfo(dataset, ['-json'])),
    dem: (mode, input, args, outputName) =>
      withDataset(input, async (dataset) => {
        const options = Module._GDALDEMProcessingOptionsNew(argv(args), 0);
        const out = `/output/${outputName}`;
        const made = Module.ccall(
          'GDALDEMProcessing',
          'number',
          ['string', 'number', 'string', 'string', 'number', 'number'],
          [out, dataset.pointer, mode, null, options, 0],
        );
        if (!made) throw new Error(`GDAL ${mode} failed: ${lastError()}`);
        Module._GDALClose(made);
        return out;
      }),
    transform: async (points, from, to) => {
      const made = await lib.gdaltransform(
        points.map((p) => [...p]),
        ['-s_srs', from, '-t_srs', to, '-output_xy'],
      );
      return made.map((p) => [Number(p[0]), Number(p[1])]);
    },
    async band(path) {
      const raw = await gdal.run(
        'gdal_translate',
        path,
        ['-of', 'ENVI', '-ot', 'Float64', '-b', '1'],
        `raw-${path.replace(/\W/g, '-')}.bin`,
      );
      const { size } = (await gdal.info(path)) as { size: [number, number] };
      const bytes = FS.readFile(raw);
      const data = new Float64Array(bytes.slice().buffer, 0, size[0] * size[1]);
      return { width: size[0], height: size[1], data };
    },
  };
  return gdal;
}
