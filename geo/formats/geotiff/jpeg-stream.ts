/** JPEG blocks of a GeoTIFF as pictures that stand alone (ITU T.81; TIFF Technical Note 2). */

export interface JpegFrame {
  readonly width: number;
  readonly height: number;
  readonly samples: number;
  /** The stream ends with its end marker: nothing was cut off. */
  readonly isWhole: boolean;
}

/** The frame header (T.81 B.2.2). Throws Error where there is none. */
export function jpegFrame(bytes: Uint8Array): JpegFrame {
  let at = 2;
  while (at + 9 < bytes.length) {
    if (bytes[at] !== 0xff) throw new Error('JPEG marker missing');
    const marker = bytes[at + 1];
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) {
      return {
        height: (bytes[at + 5] << 8) | bytes[at + 6],
        width: (bytes[at + 7] << 8) | bytes[at + 8],
        samples: bytes[at + 9],
        isWhole: endsWhole(bytes),
      };
    }
    const length = (bytes[at + 2] << 8) | bytes[at + 3];
    if (length < 2) throw new Error('JPEG segment of no length');
    at += 2 + length;
  }
  throw new Error('JPEG block without a frame');
}

/** The end marker, before what padding a writer may have left. */
function endsWhole(bytes: Uint8Array): boolean {
  let end = bytes.length;
  while (end > 2 && bytes[end - 1] === 0) end--;
  return bytes[end - 2] === 0xff && bytes[end - 1] === 0xd9;
}

/**
 * A block and the tables it shares with others as one stream, with the marker that says whether its
 * three colours are YCbCr or RGB (APP14, as in ITU T.872 6.5.3): without it readers guess.
 * @param tables the TIFF tag JPEGTables, a stream of its own; null where the block has all it needs
 */
export function standaloneJpeg(
  block: Uint8Array,
  tables: Uint8Array | null,
  colours: 'ycbcr' | 'rgb' | 'grey',
): Uint8Array<ArrayBuffer> {
  const marker =
    colours === 'grey'
      ? []
      : [
          0xff,
          0xee,
          0,
          14,
          0x41,
          0x64,
          0x6f,
          0x62,
          0x65,
          0,
          100,
          0,
          0,
          0,
          0,
          +(colours === 'ycbcr'),
        ];
  // Between start (FF D8) and end (FF D9) of the tables' own stream.
  const shared = tables && tables.length > 4 ? tables.subarray(2, tables.length - 2) : [];
  const whole = new Uint8Array(block.length + marker.length + shared.length);
  whole.set(block.subarray(0, 2));
  whole.set(marker, 2);
  whole.set(shared, 2 + marker.length);
  whole.set(block.subarray(2), 2 + marker.length + shared.length);
  return whole;
}
