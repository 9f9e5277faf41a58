import type { Problem } from '../../geo/result.ts';

/** What can stop the browser's own storage from keeping a plan, in words for whoever draws it. */
const problems = {
  'storage-full': {
    what: 'There is no room left to save on this computer, so the newest changes are only in this tab.',
    wayOut: 'Free some disk space and keep this tab open: saving goes on by itself.',
  },
  'storage-unavailable': {
    what: 'This browser window does not let Assart save anything, so the plan is only in this tab.',
    wayOut:
      'Open Assart in a normal (not private) window with site data allowed before drawing more.',
  },
  'storage-blocked': {
    what: 'An older Assart in another tab holds the saved plans, so nothing is saved from here yet.',
    wayOut: 'Close the other Assart tabs: this one then goes on by itself.',
  },
  'storage-newer': {
    what: 'A newer Assart was opened in this browser, so this tab has stopped saving.',
    wayOut: 'Reload this tab.',
  },
  'plan-newer': {
    what: 'This project was saved by a newer Assart, so it cannot be opened or changed here.',
    wayOut: 'Reload the page to get the newest Assart.',
  },
  'storage-deleted': {
    what: 'The browser deleted or closed its saved plans while this tab was open.',
    wayOut: 'Keep this tab open: its plan is saved whole again with your next change.',
  },
  'storage-failed': {
    what: 'The browser could not save the newest changes, so they are only in this tab.',
    wayOut: 'Keep this tab open: it tries again every few seconds.',
  },
} as const;

export type StorageProblemCode = keyof typeof problems;

export function storageProblem(code: StorageProblemCode, detail?: string): Problem {
  const words = { code, ...problems[code] };
  return detail === undefined ? words : { ...words, where: detail };
}

/** Puts a name to what IndexedDB threw. */
export function problemFromError(error: unknown, otherwise: StorageProblemCode): Problem {
  const { name, message } = (error ?? {}) as { name?: string; message?: string };
  if (name === 'QuotaExceededError') return storageProblem('storage-full');
  if (name === 'VersionError') return storageProblem('storage-newer');
  return storageProblem(otherwise, [name, message].filter(Boolean).join(': ') || undefined);
}
