import { useCallback, useEffect, useMemo, useState } from 'react';
import type { ShelfAnswer } from '../../protocol/index.ts';
import { useNews } from '../newsroom.ts';
import { server } from '../server.ts';

/** The lessons that some words find. */
export interface Shelf {
  readonly answer: ShelfAnswer | null;
  readonly trouble: string;
  readonly look: () => void;
}

/** Keeps the list of lessons as the words and the shelf are. */
export const useShelf = (words: string): Shelf => {
  const [answer, setAnswer] = useState<ShelfAnswer | null>(null);
  const [trouble, setTrouble] = useState('');
  const [turn, setTurn] = useState(0);
  const look = useCallback(() => setTurn((t) => t + 1), []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each turn looks again
  useEffect(() => {
    const stop = new AbortController();
    server.shelf(words, stop.signal).then(
      (found) => {
        setAnswer(found);
        setTrouble('');
      },
      (error: unknown) => {
        if (!stop.signal.aborted) setTrouble(error instanceof Error ? error.message : String(error));
      },
    );
    return () => stop.abort();
  }, [words, turn]);
  useNews(
    useMemo(
      () => ({
        news: (told) => {
          if (told.kind === 'shelf' || (told.kind === 'build' && told.build.kind !== 'building')) look();
        },
        there: (there) => {
          if (there) look();
        },
      }),
      [look],
    ),
  );
  return { answer, trouble, look };
};
