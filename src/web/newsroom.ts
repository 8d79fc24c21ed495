import { useEffect } from 'react';
import type { News } from '../protocol/index.ts';
import { hearNews } from './server.ts';

/** What a page hears. */
export interface Hearing {
  readonly news: (told: News) => void;
  /** The server answers (again), or has gone. */
  readonly there?: (there: boolean) => void;
}

const hearings = new Set<Hearing>();
let isOpen = false;

const open = (): void => {
  if (isOpen) return;
  isOpen = true;
  hearNews(
    (told) => {
      for (const hearing of hearings) hearing.news(told);
    },
    (there) => {
      for (const hearing of hearings) hearing.there?.(there);
    },
  );
};

/** Hears the server's news for as long as a page is open; one line serves them all. */
export const useNews = (hearing: Hearing): void => {
  useEffect(() => {
    hearings.add(hearing);
    open();
    return () => void hearings.delete(hearing);
  }, [hearing]);
};
