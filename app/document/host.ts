import type { TabPort } from './tab-channel.ts';

/** What a plan needs of the browser; tests put their own in its place. */
export interface PlanHost {
  readonly indexedDB: IDBFactory | undefined;
  readonly openPort: (name: string) => TabPort | null;
  readonly newId: () => string;
  /** Milliseconds since 1970, UTC. */
  readonly now: () => number;
  /** Calls `hide` when the page may be gone any moment, `show` when it is seen again. */
  readonly watchPage: (hide: () => void, show: () => void) => () => void;
}

export function browserHost(): PlanHost {
  return {
    indexedDB: storageOfBrowser(),
    openPort: (name) =>
      typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(name),
    newId: randomId,
    now: () => Date.now(),
    watchPage: (hide, show) => {
      const onVisibility = () => (document.visibilityState === 'hidden' ? hide() : show());
      window.addEventListener('pagehide', hide);
      window.addEventListener('pageshow', show);
      document.addEventListener('visibilitychange', onVisibility);
      return () => {
        window.removeEventListener('pagehide', hide);
        window.removeEventListener('pageshow', show);
        document.removeEventListener('visibilitychange', onVisibility);
      };
    },
  };
}

/** Where a browser forbids storage, already asking for it may throw. */
function storageOfBrowser(): IDBFactory | undefined {
  try {
    return globalThis.indexedDB;
  } catch {
    return undefined;
  }
}

/** `crypto.randomUUID` is missing where the page is served without https, as to a tablet. */
export function randomId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
