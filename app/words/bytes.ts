import { figure } from './format.ts';

/** "820 kB", "64 MB", "1.2 GB": thousands, as systems show the sizes of files. */
export function byteWords(bytes: number): string {
  if (bytes < 1e6) return `${figure(Math.ceil(bytes / 1000), 0)} kB`;
  if (bytes < 1e9) return `${figure(bytes / 1e6, bytes < 1e7 ? 1 : 0)} MB`;
  return `${figure(bytes / 1e9, 1)} GB`;
}
