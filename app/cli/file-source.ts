import { open, type FileHandle } from 'node:fs/promises';
import { basename } from 'node:path';
import type { ByteSource } from '../../geo/formats/byte-source.ts';

/** A file on disk, read by position; never loaded whole. Close it when done. */
export interface FileSource extends ByteSource {
  close(): Promise<void>;
}

/** Rejects with Node's own error (ENOENT, EACCES, EISDIR) where the file cannot be opened. */
export async function openFileSource(path: string): Promise<FileSource> {
  const handle: FileHandle = await open(path, 'r');
  const about = await handle.stat();
  if (about.isDirectory()) {
    await handle.close();
    throw Object.assign(new Error(`${path} is a folder`), { code: 'EISDIR' });
  }
  return {
    name: basename(path),
    size: about.size,
    async read(offset, length) {
      const wanted = Math.max(0, Math.min(length, about.size - offset));
      const bytes = new Uint8Array(wanted);
      let done = 0;
      while (done < wanted) {
        const { bytesRead } = await handle.read(bytes, done, wanted - done, offset + done);
        if (bytesRead === 0) break;
        done += bytesRead;
      }
      return bytes.subarray(0, done);
    },
    close: () => handle.close(),
  };
}
