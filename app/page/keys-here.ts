import { keyWords } from '../actions/keys.ts';

const mac = typeof navigator !== 'undefined' && /Mac|iPhone|iPad/.test(navigator.userAgent);

/** A shortcut as this machine's keyboard has it: "Ctrl+Z", "⌘Z" on a Mac. */
export function keysHere(keys: string): string {
  return keyWords(keys, mac);
}
