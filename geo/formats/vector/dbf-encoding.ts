import { knownEncoding, decodeStrictly } from './decode-text.ts';

/** Language driver bytes of the dBase header that mean a decodable code page. */
const BY_DRIVER: Readonly<Record<number, string>> = {
  0x03: 'windows-1252',
  0x57: 'windows-1252',
  0x58: 'windows-1252',
  0x59: 'windows-1252',
  0xc8: 'windows-1250',
  0xc9: 'windows-1251',
  0xca: 'windows-1254',
  0xcb: 'windows-1253',
  0x65: 'ibm866',
};

/**
 * The encoding that a .cpg file names: a number (65001, 1252, 88591, 28591) or a name (UTF-8,
 * ISO-8859-1, ANSI 1252). Null where it names none that can be decoded.
 */
export function encodingFromCpg(cpg: string): string | null {
  const label = cpg.trim().slice(0, 40);
  const number = /^(?:ansi|cp|windows)?[ _-]?(\d{3,5})$/i.exec(label)?.[1];
  if (number === undefined) return knownEncoding(label.replace(/^(iso|8859)[ _]/i, '$1-'));
  if (number === '65001') return 'utf-8';
  const iso = /^(?:8859|2859)(\d{1,2})$/.exec(number)?.[1];
  return knownEncoding(iso === undefined ? `windows-${number}` : `iso-8859-${iso}`);
}

/** The encoding of the header's language driver byte, null where it says nothing of use. */
export function encodingFromDriver(driver: number): string | null {
  return BY_DRIVER[driver] ?? null;
}

/**
 * For tables that say nothing: UTF-8 where every text with a letter beyond ASCII is whole in it, else
 * Windows-1252.
 */
export function guessEncoding(texts: Iterable<Uint8Array>): string {
  for (const text of texts) {
    if (text.some((byte) => byte > 127) && decodeStrictly(text, 'utf-8') === null) {
      return 'windows-1252';
    }
  }
  return 'utf-8';
}
