import { useCallback, useEffect, useRef, useState } from 'react';
import type { TechniquesAnswer, WordsRequest } from '../../protocol/index.ts';
import { server } from '../server.ts';
import { messageOf } from '../shelf/useTuneText.ts';
import { wording } from '../wording/index.ts';

/** While lessons are still being looked through, it is asked again after so long, in milliseconds. Ours. */
const AGAIN = 700;

/** The technique index, kept up to date, and how to change what stands in it. */
export const useTechniques = () => {
  const [answer, setAnswer] = useState<TechniquesAnswer | null>(null);
  const [trouble, setTrouble] = useState('');
  const [safety, setSafety] = useState('');
  const revision = useRef('');
  const waiting = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const look = useCallback((): void => {
    clearTimeout(waiting.current);
    server.techniques().then(
      (now) => {
        revision.current = now.revision;
        setAnswer(now);
        if (now.left > 0) waiting.current = setTimeout(look, AGAIN);
      },
      (error: unknown) => setTrouble(messageOf(error)),
    );
  }, []);
  useEffect(() => {
    look();
    return () => clearTimeout(waiting.current);
  }, [look]);
  /** Saves go one after the other: each is made from what the one before left. */
  const saving = useRef<Promise<void>>(Promise.resolve());
  const save = useCallback(
    (change: Omit<WordsRequest, 'base'>): void => {
      setSafety(wording.techniques.saving);
      setTrouble('');
      saving.current = saving.current.then(async () => {
        try {
          revision.current = (await server.saveWords({ ...change, base: revision.current })).revision;
          setSafety(wording.techniques.saved);
        } catch (error) {
          setSafety('');
          setTrouble(messageOf(error));
        }
        look();
      });
    },
    [look],
  );
  return { answer, trouble, safety, save };
};
