import { ok, problem, type Result } from '../../result.ts';
import { memorySource, type ByteSource } from '../byte-source.ts';
import type { Reading } from '../opening.ts';
import { runWork } from '../run-work.ts';
import { crc32 } from '../zip/crc32.ts';
import { inflateMember } from '../zip/inflate-member.ts';
import {
  END_BYTES,
  findZipEnd,
  leadsOut,
  LOCAL_HEADER_BYTES,
  localHeaderLength,
  readZipDirectory,
  readZipEnd,
  type ZipMember,
} from '../zip/zip-directory.ts';
import { damagedZip, notAProject, tooLarge } from './project-error.ts';

/** The files of a project, wherever they lie: in a zip or in a folder. */
export interface ProjectParts {
  /** Of the zip or folder, for messages. */
  readonly name: string;
  /** What had to be left out of it, in plain sentences. */
  readonly notes: readonly string[];
  has(path: string): boolean;
  /** A part to read from, at most so many bytes long. */
  open(path: string, mostBytes: number, reading?: Reading): Promise<Result<ByteSource>>;
}

const MOST_MEMBERS = 5000;
const MOST_DIRECTORY_BYTES = 4 * 1024 * 1024;
/** Deflate packs at most 1032 to 1 (zlib's own documentation); a greater promise is a lie. */
const MOST_RATIO = 1032;
const ZIP64_COUNT = 0xffff;
const ZIP64_SIZE = 0xffffffff;
const planName = 'plan.geojson';

/** Whether this is a zip with a plan in it. Reads its directory only; never a problem. */
export async function isProjectZip(source: ByteSource): Promise<boolean> {
  const head = await source.read(0, 2);
  if (head[0] !== 0x50 || head[1] !== 0x4b) return false;
  const members = await listMembers(source);
  return members.ok && rootOf(members.value) !== null;
}

/**
 * The parts of a project zip; only its directory is read, whatever it promises. Paths that lead out
 * of the zip are left out and told; a folder round all the parts is looked into.
 * Problems: damaged, past what a plain zip can hold, a name that is there twice, no project.
 */
export async function openProjectZip(source: ByteSource): Promise<Result<ProjectParts>> {
  const listed = await listMembers(source);
  if (!listed.ok) return listed;
  const astray = listed.value.filter(({ path }) => leadsOut(path)).length;
  const root = rootOf(listed.value);
  if (root === null) return notAProject(source.name);
  const members = new Map<string, ZipMember>();
  for (const member of listed.value) {
    if (leadsOut(member.path) || !member.path.startsWith(root) || member.path.endsWith('/'))
      continue;
    const path = member.path.slice(root.length);
    if (members.has(path)) {
      return problem(
        'project-name-twice',
        'Two parts of the project file have the same name, so it is not clear which one counts.',
        'Unzip it, keep the right one, and zip it again.',
        path,
      );
    }
    members.set(path, member);
  }
  return ok({
    name: source.name,
    notes: astray > 0 ? [`${astray} paths in the zip lead out of it: left out.`] : [],
    has: (path) => members.has(path),
    async open(path, mostBytes, reading = {}) {
      const member = members.get(path);
      if (!member) throw new RangeError(`${path} is no part of ${source.name}`);
      return openMember(source, member, path, mostBytes, reading);
    },
  });
}

/** The directory of a zip, read from its end. Problems: damaged, past what a plain zip can hold. */
export async function listMembers(source: ByteSource): Promise<Result<ZipMember[]>> {
  const tailAt = Math.max(0, source.size - END_BYTES);
  const tail = viewOf(await source.read(tailAt, source.size - tailAt));
  const end = tail.byteLength < 22 ? -1 : findZipEnd(tail);
  if (end < 0) return damagedZip(source.name);
  const { count, directorySize, directoryOffset } = readZipEnd(tail, end);
  if (count === ZIP64_COUNT || directoryOffset === ZIP64_SIZE || count > MOST_MEMBERS) {
    return tooLarge('The project file says it holds more than a plain zip can.', source.name);
  }
  if (directorySize > MOST_DIRECTORY_BYTES || directoryOffset + directorySize > source.size) {
    return damagedZip(source.name);
  }
  const view = viewOf(await source.read(directoryOffset, directorySize));
  const members = readZipDirectory(view, 0, count);
  return members === null ? damagedZip(source.name) : ok(members);
}

/** Folder that holds the plan and lies nearest to the top: '' or 'my project/'. */
function rootOf(members: readonly ZipMember[]): string | null {
  let root: string | null = null;
  for (const { path } of members) {
    if (path !== planName && !path.endsWith(`/${planName}`)) continue;
    const folder = path.slice(0, -planName.length);
    const isForeign = leadsOut(path) || /(^|\/)(__MACOSX|\.[^/]*)\//.test(folder);
    if (!isForeign && (root === null || folder.length < root.length)) root = folder;
  }
  return root;
}

async function openMember(
  source: ByteSource,
  member: ZipMember,
  path: string,
  mostBytes: number,
  reading: Reading,
): Promise<Result<ByteSource>> {
  const { size, packedSize, method } = member;
  if (size > mostBytes || packedSize > mostBytes || size === ZIP64_SIZE) {
    return tooLarge(`The project file promises ${megabytes(size)} for ${path}.`, source.name);
  }
  if (size > packedSize * MOST_RATIO) {
    return tooLarge(
      `The project file promises ${megabytes(size)} for ${path} out of ${packedSize} bytes.`,
      source.name,
    );
  }
  if (method !== 0 && method !== 8) {
    return problem(
      'project-zip-method',
      'The project file is locked with a password, or packed in a way that is not read here.',
      'Unzip it with its own program, and zip it again without a password.',
      path,
    );
  }
  const header = viewOf(await source.read(member.offset, LOCAL_HEADER_BYTES));
  const skip = localHeaderLength(header);
  const start = member.offset + (skip ?? 0);
  if (skip === null || start + packedSize > source.size) return damagedZip(path);
  if (method === 0) {
    if (size !== packedSize) return damagedZip(path);
    return ok(partOf(source, path, start, size));
  }
  const packed = await source.read(start, packedSize);
  const whole = await runWork(inflateMember(packed, size, `Unpacking ${path}`), reading);
  if (whole === null || crc32(whole) !== member.crc) return damagedZip(path);
  return ok(memorySource(path, whole));
}

/** A stored member is read where it lies, so that a large raster is never in memory twice. */
function partOf(source: ByteSource, name: string, start: number, size: number): ByteSource {
  return {
    name,
    size,
    read: (offset, length) =>
      offset >= size
        ? Promise.resolve(new Uint8Array(0))
        : source.read(start + offset, Math.min(length, size - offset)),
  };
}

function megabytes(bytes: number): string {
  return `${Math.round(bytes / 1e6).toLocaleString('en-US')} MB`;
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
