import { useEffect } from 'react';

/** Keeps the screen awake for as long as a page is open, where the browser can. */
export const useAwake = (): void => {
  useEffect(() => {
    if (!('wakeLock' in navigator)) return;
    let lock: WakeLockSentinel | null = null;
    let left = false;
    const hold = async (): Promise<void> => {
      if (document.visibilityState !== 'visible') return;
      try {
        lock = await navigator.wakeLock.request('screen');
        if (left) await lock.release();
      } catch {
        // A tired battery may refuse; the page works all the same.
      }
    };
    const again = (): void => void hold();
    again();
    document.addEventListener('visibilitychange', again);
    return () => {
      left = true;
      document.removeEventListener('visibilitychange', again);
      void lock?.release();
    };
  }, []);
};
