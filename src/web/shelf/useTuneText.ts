import { useEffect, useRef, useState } from 'react';
import type { TunesAnswer } from '../../protocol/index.ts';
import { server } from '../server.ts';

/** Read after a pause in typing, milliseconds. Ours. */
const PAUSE = 250;

/** Text of tunes that has been pasted, typed or taken from a file, and what was read in it. */
export interface TuneText {
  readonly text: string;
  readonly read: TunesAnswer | null;
  readonly isReading: boolean;
  /** Why it cannot be read; empty: it can. */
  readonly trouble: string;
  readonly setText: (text: string) => void;
  readonly takeFile: (file: File) => Promise<void>;
}

/** The message of whatever was thrown. */
export const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Has a text read whenever it changes; only the newest answer counts. */
export const useTuneText = (onRead: (read: TunesAnswer) => void): TuneText => {
  const [text, setText] = useState('');
  const [read, setRead] = useState<TunesAnswer | null>(null);
  const [trouble, setTrouble] = useState('');
  const [isReading, setReading] = useState(false);
  const turn = useRef(0);
  const tell = useRef(onRead);
  tell.current = onRead;

  const take = async (bytes: Blob): Promise<TunesAnswer | null> => {
    turn.current += 1;
    const mine = turn.current;
    setReading(true);
    try {
      const answer = await server.tunes(bytes);
      if (mine !== turn.current) return null;
      setRead(answer);
      setTrouble('');
      tell.current(answer);
      return answer;
    } catch (error) {
      if (mine !== turn.current) return null;
      setRead(null);
      setTrouble(messageOf(error));
      return null;
    } finally {
      if (mine === turn.current) setReading(false);
    }
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: only the text decides when to read it
  useEffect(() => {
    if (read?.abc === text && text !== '') return;
    turn.current += 1;
    setReading(false);
    if (text.trim() === '') {
      setRead(null);
      setTrouble('');
      return;
    }
    const waiting = setTimeout(() => void take(new Blob([text])), PAUSE);
    return () => clearTimeout(waiting);
  }, [text]);
  return {
    text,
    read,
    isReading,
    trouble,
    setText,
    takeFile: async (file) => {
      const answer = await take(file);
      if (answer !== null) setText(answer.abc);
    },
  };
};
