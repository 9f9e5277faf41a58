import type { ProjectEntry } from '../document/project-list.ts';
import { keepDeletedMilliseconds } from '../document/project-list.ts';
import { copyReminder, type CopyState } from '../store/copy-state.ts';
import { byteWords } from './bytes.ts';
import { ago } from './clock.ts';

/** What a project is called: its site's name, else its ground's. */
export function projectName(siteName: string, groundName: string | undefined): string {
  return siteName || groundName || 'Unnamed site';
}

/** "12 things drawn · saved 3 h ago · takes 66 MB, 64 MB of it shared with other projects" */
export function projectLine(project: ProjectEntry, now: number): string {
  const { featureCount, savedAt, planBytes, rasterBytes, sharedRasterBytes } = project;
  const things = featureCount === 1 ? '1 thing drawn' : `${featureCount} things drawn`;
  const shared =
    sharedRasterBytes > 0
      ? `, ${byteWords(sharedRasterBytes)} of it shared with other projects`
      : '';
  return `${things} · saved ${ago(now - savedAt)} · takes ${byteWords(planBytes + rasterBytes)}${shared}`;
}

/** "last copy 3 days ago", "no copy yet" */
export function copyLine({ copiedAt }: ProjectEntry, now: number): string {
  return copiedAt === null ? 'no copy yet' : `last copy ${ago(now - copiedAt)}`;
}

/** How long a deleted project can still be taken back. */
export function deletedLine(deletedAt: number, now: number): string {
  const left = Math.round((deletedAt + keepDeletedMilliseconds - now) / 86_400_000);
  return left === 1 ? 'deleted, kept 1 more day' : `deleted, kept ${Math.max(0, left)} more days`;
}

/** What the reminder of a copy says; null while there is nothing to say. */
export function copyReminderLine(copy: CopyState, now: number): string | null {
  const reminder = copyReminder(copy, now);
  if (!reminder) return null;
  const changes = reminder.edits === 1 ? '1 change' : `${reminder.edits} changes`;
  if (copy.copiedAt === null) return `${changes}, and no copy of this project yet.`;
  return `${changes} since the last copy, ${ago(now - copy.copiedAt)}.`;
}

/** What the browser says of the room and of keeping it. */
export function storageLine(
  storage: { readonly usedBytes: number; readonly quotaBytes: number } | null,
): string {
  if (!storage) return 'This browser does not say how much room is left.';
  const { usedBytes, quotaBytes } = storage;
  return `All projects together take ${byteWords(usedBytes)} of the ${byteWords(quotaBytes)} that this browser allows.`;
}

export const keptWords = {
  kept: 'The browser has promised to keep them until you delete them.',
  notKept:
    'The browser may throw them away when the disk runs full, and a private window does when it is closed: save copies.',
} as const;
