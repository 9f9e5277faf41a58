const TABLE = new Uint32Array(256);
for (let byte = 0; byte < 256; byte++) {
  let value = byte;
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  TABLE[byte] = value;
}

/**
 * CRC-32 as zip uses it (ISO 3309, polynomial 0x04C11DB7 reflected).
 * The check value of "123456789" is 0xCBF43926.
 * @param before CRC of the bytes that came before these, to go on from there
 */
export function crc32(bytes: Uint8Array, before = 0): number {
  let crc = before ^ 0xffffffff;
  for (let i = 0; i < bytes.length; i++) crc = TABLE[(crc ^ bytes[i]) & 255] ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}
