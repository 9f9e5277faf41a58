import { looksLikePage, readCapabilities } from '../../geo/formats/imagery/read-capabilities.ts';
import type { Problem } from '../../geo/result.ts';
import { openFile, type Fetched } from './imagery-fetch.ts';

/** What a server sent in place of a picture. */
export function notAPicture({ bytes, type, url }: Fetched): Problem {
  const text = new TextDecoder().decode(bytes.subarray(0, 20_000));
  if (/html/i.test(type) || looksLikePage(text)) {
    return {
      code: 'imagery-is-page',
      what: 'The address answers with a web page, not with a picture.',
      wayOut: `Look on that page for the address of its tiles, WMS or WMTS, and paste that. ${openFile}`,
      where: url,
    };
  }
  if (/^\s*</.test(text)) {
    const read = readCapabilities(text, url);
    if (!read.ok && read.problem.code === 'imagery-service-refuses') return read.problem;
  }
  return {
    code: 'imagery-not-picture',
    what: 'What the server sends is no picture that this browser knows.',
    wayOut: `Check the address: it should end in a PNG, JPEG or WebP. ${openFile}`,
    where: url,
  };
}
