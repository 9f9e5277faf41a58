/** The part of gdal3.js that the tests use; the package types only its browser entry. */
declare module 'gdal3.js/node.js' {
  interface GdalModule {
    readonly FS: {
      analyzePath(path: string): { exists: boolean };
      mkdir(path: string): void;
      writeFile(path: string, bytes: Uint8Array): void;
      readFile(path: string): Uint8Array;
      readdir(path: string): string[];
    };
    ccall(
      name: string,
      returns: 'number' | 'string' | null,
      types: readonly string[],
      args: readonly unknown[],
    ): never;
    _malloc(size: number): number;
    lengthBytesUTF8(text: string): number;
    stringToUTF8(text: string, at: number, size: number): void;
    setValue(at: number, value: number, type: 'i32'): void;
    _GDALDEMProcessingOptionsNew(argv: number, forBinary: number): number;
    _GDALClose(dataset: number): void;
  }
  interface GdalLibrary {
    readonly Module: GdalModule;
    gdalinfo(dataset: { pointer: number }, args: string[]): Promise<Record<string, unknown>>;
    gdaltransform(points: number[][], args: string[]): Promise<number[][]>;
    gdal_translate(
      dataset: { pointer: number },
      args: string[],
      name: string,
    ): Promise<{ local: string }>;
    gdalwarp(
      dataset: { pointer: number },
      args: string[],
      name: string,
    ): Promise<{ local: string }>;
    ogr2ogr(dataset: { pointer: number }, args: string[], name: string): Promise<{ local: string }>;
    gdal_rasterize(
      dataset: { pointer: number },
      args: string[],
      name: string,
    ): Promise<{ local: string }>;
  }
  export default function initGdalJs(options: {
    path: string;
    dest: string;
    useWorker: boolean;
  }): Promise<GdalLibrary>;
}
