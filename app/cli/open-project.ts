import { createHash } from 'node:crypto';
import { access, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { decodeHere } from '../../geo/formats/geotiff/decode-block.ts';
import {
  isProjectZip,
  openProjectZip,
  type ProjectParts,
} from '../../geo/formats/project/project-parts.ts';
import {
  readProjectRaster,
  type RasterNumbers,
} from '../../geo/formats/project/read-project-raster.ts';
import {
  readProject,
  type ProjectRaster,
  type ReadProject,
} from '../../geo/formats/project/read-project.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { ok, problem } from '../../geo/result.ts';
import { badInput } from './cli-problem.ts';
import { openFileSource, type FileSource } from './file-source.ts';
import { fileProblem } from './verb.ts';

/** A project on disk, as its zip or unzipped; close it when done. */
export interface ProjectOnDisk extends ReadProject {
  readonly name: string;
  /** Throws CliProblem where its file is missing or not the one that the plan was saved with. */
  ground(raster: ProjectRaster & { kind: 'ground' }): Promise<GroundInUse>;
  close(): Promise<void>;
}

/** The project at a path; null where there is none: another file, or a folder without its parts. */
export async function openProject(path: string): Promise<ProjectOnDisk | null> {
  const opened: FileSource[] = [];
  const close = async () => {
    for (const source of opened) await source.close();
  };
  try {
    const parts = await partsAt(path, opened);
    if (parts === null) return null;
    const read = await readProject(parts);
    if (!read.ok) throw badInput(read.problem);
    return {
      ...read.value,
      name: parts.name,
      ground: (raster) => groundOf(parts, raster),
      close,
    };
  } catch (error) {
    await close();
    throw fileProblem(error, path) ?? error;
  }
}

async function partsAt(path: string, opened: FileSource[]): Promise<ProjectParts | null> {
  if ((await stat(path)).isDirectory()) {
    const isThere = await Promise.all(
      ['plan.geojson', 'settings.json'].map((p) => exists(join(path, p))),
    );
    return isThere.every(Boolean) ? folderParts(path, opened) : null;
  }
  const source = await openFileSource(path);
  opened.push(source);
  if (!(await isProjectZip(source))) {
    await opened.pop()!.close();
    return null;
  }
  const parts = await openProjectZip(source);
  if (!parts.ok) throw badInput(parts.problem);
  return parts.value;
}

/** An unzipped project: its parts are files beside each other. */
async function folderParts(folder: string, opened: FileSource[]): Promise<ProjectParts> {
  const rasters = await readdir(join(folder, 'rasters')).catch(() => []);
  const paths = new Set([
    'plan.geojson',
    'settings.json',
    ...rasters.map((name) => `rasters/${name}`),
  ]);
  return {
    name: folder,
    notes: [],
    has: (path) => paths.has(path),
    async open(path, mostBytes) {
      const source = await openFileSource(join(folder, path));
      opened.push(source);
      if (source.size <= mostBytes) return ok({ ...source, name: path });
      return problem(
        'project-too-large',
        'This part of the project is larger than any that Assart writes.',
        'Look whether it is the right file.',
        path,
      );
    },
  };
}

async function groundOf(
  parts: ProjectParts,
  raster: ProjectRaster & { kind: 'ground' },
): Promise<GroundInUse> {
  const hash = (numbers: RasterNumbers) => {
    const bytes = new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength);
    return Promise.resolve(createHash('sha256').update(bytes).digest('hex'));
  };
  const numbers = await readProjectRaster(parts, raster, { decoder: decodeHere, hash });
  if (!numbers.ok) throw badInput({ ...numbers.problem, where: raster.path });
  const { record } = raster;
  const grid = { ...record.place, data: numbers.value as Float32Array };
  return { record, grid, frame: openFrame(grid.frame) };
}

async function exists(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}
