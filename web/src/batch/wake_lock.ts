import { useEffect, useState } from 'preact/hooks';

/**
 * Keeps the kitchen screen on while the batch page is open, where the browser can. On by itself while `wanted`, until
 * the person says otherwise. Asked for again when seen.
 */
export function useWakeLock(wanted: boolean): { able: boolean; on: boolean; toggle: () => void } {
  const able = 'wakeLock' in navigator && Boolean(navigator.wakeLock);
  const [said, setSaid] = useState<boolean | null>(null);
  const on = said ?? wanted;
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
        .catch(() => setSaid(false));
    };
    ask();
    document.addEventListener('visibilitychange', ask);
    return () => {
      gone = true;
      document.removeEventListener('visibilitychange', ask);
      void lock?.release();
    };
  }, [on, able]);
  return { able, on, toggle: () => setSaid(!on) };
}
