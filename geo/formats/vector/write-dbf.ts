import type { DbfField } from './dbf-fields.ts';

/**
 * A dBase III table (32 bytes of header, 32 per field, records of fixed length) in UTF-8, as GIS
 * programs read it beside a shapefile together with a .cpg that says so. Its date is fixed: the same
 * input gives the same bytes. Throws RangeError for a name or length that the format cannot hold.
 */
export function writeDbf(fields: readonly DbfField[], rows: number): Uint8Array {
  const recordLength = fields.reduce((sum, field) => sum + field.length, 1);
  if (recordLength > 0xffff) throw new RangeError(`records of ${recordLength} bytes`);
  const headerLength = 32 + 32 * fields.length + 1;
  const bytes = new Uint8Array(headerLength + rows * recordLength + 1).fill(0x20, headerLength);
  const view = new DataView(bytes.buffer);
  // Version, then 2000-01-01 as years since 1900, month, day.
  bytes.set([0x03, 100, 1, 1]);
  view.setUint32(4, rows, true);
  view.setUint16(8, headerLength, true);
  view.setUint16(10, recordLength, true);
  const encoder = new TextEncoder();
  let offset = 1;
  fields.forEach(({ name, type, length, decimals, values }, i) => {
    if (name.length > 10 || length > 254) throw new RangeError(`field ${name} of ${length} bytes`);
    const at = 32 + 32 * i;
    bytes.set(encoder.encode(name), at);
    bytes[at + 11] = type.charCodeAt(0);
    bytes[at + 16] = length;
    bytes[at + 17] = decimals;
    for (let row = 0; row < rows; row++) {
      const text = encoder.encode(values[row]);
      const start = headerLength + row * recordLength + offset;
      bytes.set(text, type === 'N' ? start + length - text.length : start);
    }
    offset += length;
  });
  bytes[headerLength - 1] = 0x0d;
  bytes[bytes.length - 1] = 0x1a;
  return bytes;
}
