import { kBase } from './client';

const kAgainMs = 10_000;

/**
 * Calls `changed` when the household or its plan has changed. The stream is closed while the page is hidden (a
 * browser allows six connections to one place, and a sleeping phone should hold none) and opened again, with one
 * call of `changed` to catch up, when it is seen.
 */
export function listen(changed: () => void): () => void {
  let source: EventSource | null = null;

  const open = (): void => {
    if (source || document.visibilityState !== 'visible') return;
    source = new EventSource(`${kBase}/events`);
    source.addEventListener('changed', changed);
    source.addEventListener('planned', changed);
    // The browser gives up for good on an answer it does not like (too many listeners): try again later.
    source.addEventListener('error', () => {
      if (source?.readyState !== EventSource.CLOSED) return;
      close();
      setTimeout(open, kAgainMs);
    });
    // The browser connects again by itself after a break; what was missed is asked for.
    let opened = false;
    source.addEventListener('open', () => {
      if (opened) changed();
      opened = true;
    });
  };
  const close = (): void => {
    source?.close();
    source = null;
  };
  const seen = (): void => {
    if (document.visibilityState === 'visible') {
      open();
      changed();
    } else {
      close();
    }
  };
  document.addEventListener('visibilitychange', seen);
  window.addEventListener('online', changed);
  open();
  return () => {
    document.removeEventListener('visibilitychange', seen);
    window.removeEventListener('online', changed);
    close();
  };
}
