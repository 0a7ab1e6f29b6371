import { useEffect, useState } from 'preact/hooks';

/** Keeps the kitchen screen on while the batch page is open, where the browser can. Asked for again when seen. */
export function useWakeLock(): { able: boolean; on: boolean; toggle: () => void } {
  const able = 'wakeLock' in navigator && Boolean(navigator.wakeLock);
  const [on, setOn] = useState(false);
  useEffect(() => {
    if (!on || !able) return undefined;
    let lock: WakeLockSentinel | null = null;
    let gone = false;
    const ask = (): void => {
      if (document.visibilityState !== 'visible') return;
      navigator.wakeLock
        .request('screen')
        .then((got) => {
          if (gone) void got.release();
          else lock = got;
        })
        .catch(() => setOn(false));
    };
    ask();
    document.addEventListener('visibilitychange', ask);
    return () => {
      gone = true;
      document.removeEventListener('visibilitychange', ask);
      void lock?.release();
    };
  }, [on, able]);
  return { able, on, toggle: () => setOn(!on) };
}
