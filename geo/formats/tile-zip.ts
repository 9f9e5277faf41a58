import { ok, problem, type Result } from '../result.ts';
import { memorySource, type ByteSource } from './byte-source.ts';
import type { Reading } from './opening.ts';
import { listMembers } from './project/project-parts.ts';
import { ReadingStopped, runWork } from './run-work.ts';
import { crc32 } from './zip/crc32.ts';
import { inflateMember } from './zip/inflate-member.ts';
import {
  leadsOut,
  LOCAL_HEADER_BYTES,
  localHeaderLength,
  type ZipMember,
} from './zip/zip-directory.ts';

const TILE = /\.(tiff?|asc|grd|xyz)$/i;
const TABLE = /\.(csv|txt)$/i;
const BESIDE = /\.(tfw|tifw|tiffw|wld|prj|aux\.xml)$/i;
const MOST_UNPACKED = 1024 * 1024 * 1024;

/** Whether a zip holds elevation: rasters, or tables of points where nothing else is in it. */
export function isTileZip(members: readonly ZipMember[], isNothingElse: boolean): boolean {
  const paths = members.map(({ path }) => path).filter(isWanted);
  if (paths.some((path) => TILE.test(path))) return true;
  return isNothingElse && paths.some((path) => TABLE.test(path) && !/readme/i.test(path));
}

/**
 * Every zip among the files replaced by the elevation files in it, with what belongs beside them;
 * the other files as they are. What a zip promises is added up before anything is unpacked; stored
 * members are read where they lie. Problems: damaged, too large, locked, stopped.
 */
export async function unzipTiles(
  sources: readonly ByteSource[],
  reading: Reading,
): Promise<Result<ByteSource[]>> {
  const files: ByteSource[] = [];
  for (const source of sources) {
    // Whatever cannot be read says so where it is opened.
    const head = await source.read(0, 4).catch(() => new Uint8Array(0));
    if (head[0] !== 0x50 || head[1] !== 0x4b || head[2] !== 3) {
      files.push(source);
      continue;
    }
    const inside = await unzip(source, reading).catch((error: unknown) => {
      if (error instanceof ReadingStopped) return stopped(source.name);
      return damaged(source.name);
    });
    if (!inside.ok) return inside;
    files.push(...inside.value);
  }
  return ok(files);
}

async function unzip(source: ByteSource, reading: Reading): Promise<Result<ByteSource[]>> {
  const members = await listMembers(source);
  if (!members.ok) return damaged(source.name);
  const tiles = members.value.filter(({ path }) => isWanted(path) && TILE.test(path));
  const main = tiles.length > 0 ? TILE : TABLE;
  const wanted = members.value.filter(
    ({ path }) => isWanted(path) && (main.test(path) || BESIDE.test(path)),
  );
  const promised = wanted.reduce((sum, { size }) => sum + size, 0);
  if (promised > MOST_UNPACKED) {
    return problem(
      'zip-too-large',
      `The zip says it holds ${Math.round(promised / 1e6).toLocaleString('en-US')} MB of elevation.`,
      'Unzip it, and open only the tiles round your ground.',
      source.name,
    );
  }
  const files: ByteSource[] = [];
  for (const member of wanted) {
    const file = await openTile(source, member, reading);
    if (!file.ok) return file;
    files.push(file.value);
  }
  return ok(files);
}

async function openTile(
  source: ByteSource,
  { path, method, offset, packedSize, size, crc }: ZipMember,
  reading: Reading,
): Promise<Result<ByteSource>> {
  const name = path.replace(/^.*[\\/]/s, '');
  if (method !== 0 && method !== 8) {
    return problem(
      'zip-method',
      'The zip is locked with a password, or packed in a way that is not read here.',
      'Unzip it, and open the files inside together.',
      source.name,
    );
  }
  const head = await source.read(offset, LOCAL_HEADER_BYTES);
  const skip = localHeaderLength(new DataView(head.buffer, head.byteOffset, head.byteLength));
  const start = offset + (skip ?? 0);
  if (skip === null || start + packedSize > source.size) return damaged(source.name);
  if (method === 0) {
    if (size !== packedSize) return damaged(source.name);
    return ok({
      name,
      size,
      read: (from, length) => source.read(start + from, Math.max(0, Math.min(length, size - from))),
    });
  }
  const packed = await source.read(start, packedSize);
  const whole = await runWork(inflateMember(packed, size, `Unpacking ${name}`), reading);
  if (whole === null || crc32(whole) !== crc) return damaged(source.name);
  return ok(memorySource(name, whole));
}

function isWanted(path: string): boolean {
  return !leadsOut(path) && !/(^|\/)(__MACOSX\/|\.)/.test(path);
}

function stopped(where: string): Result<never> {
  const wayOut = 'Open the file again when you want it.';
  return problem('stopped', 'Reading was stopped.', wayOut, where);
}

function damaged(where: string): Result<never> {
  return problem(
    'zip-damaged',
    'The zip is damaged or not whole.',
    'Copy or download it again; if it still fails, unzip it and open the files inside.',
    where,
  );
}
