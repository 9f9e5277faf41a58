import type { ByteSource } from '../../geo/formats/byte-source.ts';

/** A file that the user picked or dropped, read by slice; nothing is kept of it. */
export function blobSource(file: File): ByteSource {
  return {
    name: file.name,
    size: file.size,
    async read(offset, length) {
      const part = file.slice(offset, Math.min(file.size, offset + length));
      return new Uint8Array(await part.arrayBuffer());
    },
  };
}
