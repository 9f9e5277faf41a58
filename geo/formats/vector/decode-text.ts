/** Bytes of a text file as text, and a note where its encoding had to be guessed. */
export interface DecodedText {
  readonly text: string;
  readonly note: string | null;
}

const GUESSED = 'The text is not valid UTF-8 and was read as Windows-1252 (Western letters).';

/**
 * Decodes text by its byte order mark, else by the encoding named in an XML declaration, else as
 * UTF-8, else as Windows-1252 with a note. An unknown name counts as none. Never throws.
 */
export function decodeText(bytes: Uint8Array): DecodedText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return plain(bytes, 'utf-16le');
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return plain(bytes, 'utf-16be');
  // UTF-16 without a mark shows by its zero bytes around the first "<" or "{".
  if (bytes[0] !== 0 && bytes[1] === 0) return plain(bytes, 'utf-16le');
  if (bytes[0] === 0 && bytes[1] !== 0 && bytes.length > 1) return plain(bytes, 'utf-16be');
  const named = declaredEncoding(bytes);
  if (named !== null && named !== 'utf-8') return plain(bytes, named);
  const text = decodeStrictly(bytes, 'utf-8');
  return text === null
    ? { ...plain(bytes, 'windows-1252'), note: GUESSED }
    : { text: text.replace(/^\ufeff/, ''), note: null };
}

/** Text of bytes that are whole in an encoding, null where they are not. */
export function decodeStrictly(bytes: Uint8Array, label: string): string | null {
  try {
    return new TextDecoder(label, { fatal: true }).decode(bytes);
  } catch (error) {
    if (error instanceof TypeError) return null;
    throw error;
  }
}

/** The standard name of an encoding that can be decoded, null for any other. */
export function knownEncoding(label: string): string | null {
  try {
    return new TextDecoder(label).encoding;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function plain(bytes: Uint8Array, label: string): DecodedText {
  return { text: new TextDecoder(label).decode(bytes).replace(/^\ufeff/, ''), note: null };
}

function declaredEncoding(bytes: Uint8Array): string | null {
  const head = new TextDecoder('windows-1252').decode(bytes.subarray(0, 200));
  const label = /^\s{0,20}<\?xml[^>]{0,100}encoding\s?=\s?["']([\w.:-]{1,40})["']/.exec(head)?.[1];
  const known = label === undefined ? null : knownEncoding(label);
  // Declared two bytes a letter in a file that is read one byte a letter: the declaration is wrong.
  return known?.startsWith('utf-16') ? null : known;
}
