import * as Y from 'yjs';

/**
 * Yjs holds back every later change of a session when an earlier one is missing. Where a saved
 * change is lost for good, this puts empty space in its place, so that all others come in; a thing
 * whose own earlier value was lost shows the last value before it. Returns whether it had to.
 * Only when no other tab can still bring the missing part: it would be refused afterwards.
 */
export function fillGaps(doc: Y.Doc, origin: unknown): boolean {
  let filled = false;
  for (;;) {
    const missing = doc.store.pendingStructs?.missing;
    if (missing === undefined || missing.size === 0) return filled;
    const known = Y.decodeStateVector(Y.encodeStateVector(doc));
    let any = false;
    for (const [client, lastMissing] of missing) {
      const from = known.get(client) ?? 0;
      if (from > lastMissing) continue;
      any = filled = true;
      Y.applyUpdate(doc, emptySpace(client, from, lastMissing + 1 - from), origin);
    }
    if (!any) return filled;
  }
}

/** A Yjs update (format 1) of one client with one collected struct and no deletions. */
function emptySpace(client: number, clock: number, length: number): Uint8Array {
  const collected = 0;
  return Uint8Array.from(
    [1, 1, client, clock, collected, length, 0].flatMap((value) => variableLength(value)),
  );
}

/** Seven bits a byte, lowest first, the top bit set on all but the last (as in LEB128). */
function variableLength(value: number): number[] {
  const bytes: number[] = [];
  for (; value > 127; value = Math.floor(value / 128)) bytes.push((value % 128) + 128);
  bytes.push(value);
  return bytes;
}
