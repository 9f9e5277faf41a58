/**
 * SHA-256 (FIPS 180-4 §6.2) in steps, so that a page can pause between parts and a page served
 * without https can hash at all: the browser's own `crypto.subtle.digest` wants the whole message
 * at once and, in Chromium, blocks its thread until it is done.
 */
export class Sha256 {
  readonly #hash = Uint32Array.from(fractions((prime) => Math.sqrt(prime), 8));
  readonly #schedule = new Int32Array(64);
  readonly #rest = new Uint8Array(64);
  #restLength = 0;
  #totalBytes = 0;

  update(bytes: Uint8Array): this {
    this.#totalBytes += bytes.length;
    let at = 0;
    if (this.#restLength > 0) {
      at = Math.min(64 - this.#restLength, bytes.length);
      this.#rest.set(bytes.subarray(0, at), this.#restLength);
      this.#restLength += at;
      if (this.#restLength < 64) return this;
      this.#blocks(this.#rest, 0, 64);
      this.#restLength = 0;
    }
    const whole = at + ((bytes.length - at) & ~63);
    this.#blocks(bytes, at, whole);
    this.#rest.set(bytes.subarray(whole));
    this.#restLength = bytes.length - whole;
    return this;
  }

  /** The hash in hex; the object is spent afterwards. */
  hex(): string {
    const bits = this.#totalBytes * 8;
    const padding = new Uint8Array((this.#restLength < 56 ? 64 : 128) - this.#restLength);
    padding[0] = 0x80;
    const length = new DataView(padding.buffer, padding.length - 8);
    length.setUint32(0, Math.floor(bits / 2 ** 32));
    length.setUint32(4, bits >>> 0);
    this.update(padding);
    return Array.from(this.#hash, (word) => word.toString(16).padStart(8, '0')).join('');
  }

  #blocks(bytes: Uint8Array, from: number, to: number): void {
    const w = this.#schedule;
    const hash = this.#hash;
    let [h0, h1, h2, h3, h4, h5, h6, h7] = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => hash[i]! | 0) as [
      number, number, number, number, number, number, number, number,
    ]; // prettier-ignore
    for (let at = from; at < to; at += 64) {
      for (let t = 0, p = at; t < 16; t++, p += 4) {
        w[t] = (bytes[p]! << 24) | (bytes[p + 1]! << 16) | (bytes[p + 2]! << 8) | bytes[p + 3]!;
      }
      for (let t = 16; t < 64; t++) {
        const x = w[t - 2]!;
        const y = w[t - 15]!;
        const s1 = ((x >>> 17) | (x << 15)) ^ ((x >>> 19) | (x << 13)) ^ (x >>> 10);
        const s0 = ((y >>> 7) | (y << 25)) ^ ((y >>> 18) | (y << 14)) ^ (y >>> 3);
        w[t] = (s1 + w[t - 7]! + s0 + w[t - 16]!) | 0;
      }
      let a = h0, b = h1, c = h2, d = h3, e = h4, f = h5, g = h6, h = h7; // prettier-ignore
      for (let t = 0; t < 64; t++) {
        const s1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
        const t1 = (h + s1 + ((e & f) ^ (~e & g)) + roundConstants[t]! + w[t]!) | 0;
        const s0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
        const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
        h = g;
        g = f;
        f = e;
        e = (d + t1) | 0;
        d = c;
        c = b;
        b = a;
        a = (t1 + t2) | 0;
      }
      h0 = (h0 + a) | 0;
      h1 = (h1 + b) | 0;
      h2 = (h2 + c) | 0;
      h3 = (h3 + d) | 0;
      h4 = (h4 + e) | 0;
      h5 = (h5 + f) | 0;
      h6 = (h6 + g) | 0;
      h7 = (h7 + h) | 0;
    }
    hash.set([h0, h1, h2, h3, h4, h5, h6, h7]);
  }
}

/** First 32 bits of the fractional parts of a root of the first primes (FIPS 180-4 §4.2.2, §5.3.3). */
function fractions(root: (prime: number) => number, howMany: number): number[] {
  const found: number[] = [];
  for (let n = 2; found.length < howMany; n++) {
    let prime = true;
    for (let d = 2; d * d <= n; d++) if (n % d === 0) prime = false;
    if (prime) found.push(Math.floor((root(n) % 1) * 2 ** 32) | 0);
  }
  return found;
}

const roundConstants = Int32Array.from(fractions((prime) => Math.cbrt(prime), 64));
