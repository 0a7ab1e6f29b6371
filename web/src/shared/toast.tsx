import { useEffect, useState } from 'preact/hooks';

import { t } from './texts';

export interface Toast {
  words: string;
  /** More to read under it: what to do instead. */
  more: string[];
  undo: (() => void) | null;
  /** A refusal stays until it is read; news goes by itself. */
  stays: boolean;
}

const kShownMs = 15_000;
let show: ((toast: Toast | null) => void) | null = null;

export function say(words: string, undo: (() => void) | null = null): void {
  show?.({ words, more: [], undo, stays: false });
}

export function sayNo(words: string, more: string[]): void {
  show?.({ words, more, undo: null, stays: true });
}

/** The one line at the foot of the page that says what was done, with Undo. */
export function ToastLine() {
  const [toast, setToast] = useState<Toast | null>(null);
  const [held, setHeld] = useState(false);
  useEffect(() => {
    show = setToast;
    return () => {
      show = null;
    };
  }, []);
  useEffect(() => {
    if (!toast || toast.stays || held) return undefined;
    const timer = setTimeout(() => setToast(null), kShownMs);
    return () => clearTimeout(timer);
  }, [toast, held]);

  const close = (): void => {
    setHeld(false);
    setToast(null);
  };
  return (
    <div class="toast-place" role="status" aria-live="polite">
      {toast && (
        <div
          class={toast.stays ? 'toast toast-no' : 'toast'}
          onMouseEnter={() => setHeld(true)}
          onMouseLeave={() => setHeld(false)}
          onFocusCapture={() => setHeld(true)}
          onBlurCapture={() => setHeld(false)}
        >
          <div class="toast-words">
            <p>{toast.words}</p>
            {toast.more.length > 0 && (
              <ul>
                {toast.more.map((line) => (
                  <li key={line}>{line}</li>
                ))}
              </ul>
            )}
          </div>
          {toast.undo && (
            <button
              type="button"
              onClick={() => {
                toast.undo?.();
                close();
              }}
            >
              {t.undo.button}
            </button>
          )}
          <button type="button" class="quiet" onClick={close}>
            {t.close}
          </button>
        </div>
      )}
    </div>
  );
}
