import { outbox, refresh } from './views';

const kFirstMs = 3_000;
const kLongestMs = 60_000;

/**
 * Sends what waits: now, when there is a connection again, when the page is seen, and again and again with longer and
 * longer pauses. `now()` tries at once, for whoever has just heard from the household; `stop()` ends it.
 */
export function keepSending(): { now: () => void; stop: () => void } {
  let pause = kFirstMs;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const send = async (): Promise<void> => {
    clearTimeout(timer);
    const before = (await outbox.waiting()).length;
    if (before > 0) await outbox.flush();
    const left = (await outbox.waiting()).length;
    if (left < before) refresh();
    pause = left === 0 || left < before ? kFirstMs : Math.min(kLongestMs, pause * 2);
    clearTimeout(timer);
    timer = setTimeout(() => void send(), pause);
  };
  const now = (): void => {
    pause = kFirstMs;
    void send();
  };
  const seen = (): void => {
    if (document.visibilityState === 'visible') now();
  };
  window.addEventListener('online', now);
  document.addEventListener('visibilitychange', seen);
  now();
  return {
    now,
    stop: () => {
      clearTimeout(timer);
      window.removeEventListener('online', now);
      document.removeEventListener('visibilitychange', seen);
    },
  };
}
