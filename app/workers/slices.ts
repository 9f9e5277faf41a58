/**
 * Runs tasks in slices so that messages get in between: a new drag, a stop. Yields through a
 * MessageChannel, because timers are clamped to 4 ms and more.
 */

/** Longest time that a slice may hold the thread, milliseconds (architecture, "Long work"). */
export const sliceMilliseconds = 16;

let channel: MessageChannel | undefined;
const waiting: (() => void)[] = [];

/** Resolves after every message that has already arrived was handled. */
export function breathe(): Promise<void> {
  if (!channel) {
    channel = new MessageChannel();
    channel.port1.onmessage = () => waiting.shift()?.();
  }
  const { port2 } = channel;
  return new Promise((resolve) => {
    waiting.push(resolve);
    port2.postMessage(null);
  });
}
