/** The door through which bytes come: a file, a range request, a store or memory; `app` opens it. */
export interface ByteSource {
  readonly name: string;
  readonly size: number;
  /** Bytes from `offset`; fewer than `length` only at the end of the source. */
  read(offset: number, length: number): Promise<Uint8Array>;
}

export function memorySource(name: string, bytes: Uint8Array): ByteSource {
  return {
    name,
    size: bytes.byteLength,
    read: (offset, length) =>
      Promise.resolve(bytes.subarray(offset, Math.min(bytes.byteLength, offset + length))),
  };
}
