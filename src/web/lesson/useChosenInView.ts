import { type RefObject, useEffect } from 'react';
import type { View } from './view.ts';

/** When something opens or closes beside the music, the chosen bar stays in sight. */
export const useChosenInView = (host: RefObject<HTMLElement | null>, { chosen, panel }: View): void => {
  const bar = chosen?.from ?? null;
  // biome-ignore lint/correctness/useExhaustiveDependencies: another bar is chosen where one looks
  useEffect(() => {
    if (bar === null) return;
    host.current?.querySelector(`[data-bar="${bar}"]`)?.scrollIntoView({ block: 'nearest' });
  }, [host, panel]);
};
