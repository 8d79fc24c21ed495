import { useEffect } from 'react';
import { barAskedFor } from '../route.ts';
import type { BarPlace } from '../workroom/messages.ts';
import type { View } from './view.ts';

/** Chooses the bar that the address asks for, once, when the tune is there. */
export const useBarAsked = (bars: readonly BarPlace[], change: (next: Partial<View>) => void): void => {
  const isThere = bars.length > 0;
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once, as soon as there are bars
  useEffect(() => {
    const number = barAskedFor();
    if (!isThere || number === null) return;
    const at = bars.findIndex((bar) => bar.number === number);
    history.replaceState(null, '', location.pathname);
    if (at >= 0) change({ chosen: { from: at, to: at }, looping: false });
  }, [isThere]);
};
