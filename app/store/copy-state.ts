/** How far the last copy of a project, saved as a file, is behind. */
export interface CopyState {
  /** Gestures saved in this browser, and how many of them there were at the last copy. */
  readonly edits: number;
  readonly copiedEdits: number;
  /** Milliseconds since 1970, UTC; null where there is no copy, or nobody knows. */
  readonly copiedAt: number | null;
  readonly createdAt: number | null;
}

export const noCopy: CopyState = { edits: 0, copiedEdits: 0, copiedAt: null, createdAt: null };

/** A day's drawing, or a week with anything in it. */
const mostEdits = 60;
const mostDays = 7;
const day = 86_400_000;

/**
 * What to say of a copy that is behind: after 60 changes since the last one, or a week with any.
 * Null while there is nothing to say. Days count from the last copy, else from the project's start.
 */
export function copyReminder(
  { edits, copiedEdits, copiedAt, createdAt }: CopyState,
  now: number,
): { readonly edits: number; readonly days: number | null } | null {
  const behind = Math.max(0, edits - copiedEdits);
  const since = copiedAt ?? createdAt;
  const days = since === null ? null : Math.floor((now - since) / day);
  if (behind === 0) return null;
  if (behind < mostEdits && (days === null || days < mostDays)) return null;
  return { edits: behind, days };
}
