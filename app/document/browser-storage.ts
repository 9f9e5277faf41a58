/** What the browser says of the room that this page takes, and of whether it will keep it. */

export interface StorageUse {
  readonly usedBytes: number;
  readonly quotaBytes: number;
}

/** Null where the browser does not say. */
export async function storageUse(): Promise<StorageUse | null> {
  try {
    const { usage, quota } = await navigator.storage.estimate();
    return usage === undefined || quota === undefined
      ? null
      : { usedBytes: usage, quotaBytes: quota };
  } catch {
    return null;
  }
}

/** Whether the browser has promised not to throw the page's data away by itself. */
export async function isStorageKept(): Promise<boolean | null> {
  try {
    return await navigator.storage.persisted();
  } catch {
    return null;
  }
}

const askedKey = 'assart asked to keep';

/** Asks for that promise, once in a browser: some ask their user, and nagging does not help. */
export async function askToKeepStorage(): Promise<void> {
  try {
    if (localStorage.getItem(askedKey) !== null) return;
    localStorage.setItem(askedKey, 'yes');
    if (!(await navigator.storage.persisted())) await navigator.storage.persist();
  } catch {
    // Without storage, or without that promise, the notices say what is to be known.
  }
}
