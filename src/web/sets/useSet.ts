import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { SetAnswer } from '../../protocol/index.ts';
import { useNews } from '../newsroom.ts';
import { server } from '../server.ts';
import { messageOf } from '../shelf/useTuneText.ts';
import { type SetSafety, type SetSaver, setSaverOf } from './setSaver.ts';
import { useWishes, type WishHistory } from './useWishes.ts';

/** A set that is open. */
export interface OpenSet {
  /** As the server last worked it out; null: not known yet. */
  readonly answer: SetAnswer | null;
  readonly wishes: WishHistory;
  readonly safety: SetSafety;
  /** Why there is nothing newer to show; empty: nothing is wrong. */
  readonly trouble: string;
}

/** Keeps a set saved as it is changed, and shown as it is on the shelf. */
export const useSet = (id: string): OpenSet => {
  const [answer, setAnswer] = useState<SetAnswer | null>(null);
  const [safety, setSafety] = useState<SetSafety>({ kind: 'saved' });
  const [trouble, setTrouble] = useState('');
  const saver = useRef<SetSaver | null>(null);
  const wishes = useWishes(useCallback((wish) => saver.current?.want(wish), []));
  const { show } = wishes;

  const look = useCallback(
    () =>
      server.set(id).then(
        (now) => {
          setTrouble('');
          setAnswer(now);
          if (saver.current?.isDue() === true) return;
          saver.current?.readAs(now.revision);
          show(now.wish);
        },
        (error: unknown) => setTrouble(messageOf(error)),
      ),
    [id, show],
  );
  useEffect(() => {
    const opened = setSaverOf(id, {
      onSafety: setSafety,
      onSaved: setAnswer,
      onRefused: () => void look(),
    });
    saver.current = opened;
    void look();
    return () => opened.save();
  }, [id, look]);
  useNews(
    useMemo(
      () => ({
        news: (told) => {
          if (told.kind === 'build' && told.id === `sets/${id}`) {
            setAnswer((before) => (before === null ? before : { ...before, build: told.build }));
            if (told.build.kind !== 'building') void look();
          } else if (told.kind === 'shelf') void look();
        },
        there: (there) => {
          if (!there) return;
          saver.current?.save();
          void look();
        },
      }),
      [id, look],
    ),
  );
  return { answer, wishes, safety, trouble };
};
