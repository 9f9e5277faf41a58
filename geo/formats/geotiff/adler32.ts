/**
 * Adler-32 checksum (RFC 1950), as an unsigned 32-bit number. Sums are reduced every 3800 bytes,
 * a run that stays within signed 32 bits, which engines add fastest. Example: the ASCII text "Wikipedia" gives 0x11e60398.
 */
export function adler32(bytes: Uint8Array): number {
  let a = 1;
  let b = 0;
  for (let at = 0; at < bytes.length;) {
    const end = Math.min(at + 3800, bytes.length);
    const whole = at + ((end - at) & ~3);
    for (; at < whole; at += 4) {
      a += bytes[at];
      b += a;
      a += bytes[at + 1];
      b += a;
      a += bytes[at + 2];
      b += a;
      a += bytes[at + 3];
      b += a;
    }
    for (; at < end; at++) {
      a += bytes[at];
      b += a;
    }
    a %= 65521;
    b %= 65521;
  }
  return ((b << 16) | a) >>> 0;
}
