import { useEffect, useRef, useState } from 'react';
import type { TunesAnswer } from '../../protocol/index.ts';
import { goTo, lessonAddress } from '../route.ts';
import { type MakingStep, makeSome } from './makeSome.ts';
import { messageOf } from './useTuneText.ts';

/** Lessons that are being made. */
export interface Making {
  /** How far it is; null: nothing is being made. */
  readonly step: MakingStep | null;
  /** Why it went no further; empty: nothing is wrong. */
  readonly said: string;
  /** Makes lessons of some tunes, and goes to the one, or to the shelf. */
  readonly make: (read: TunesAnswer, chosen: readonly number[], teacher: string) => Promise<void>;
  /** Makes no more of them; those that are made stay. */
  readonly stop: () => void;
}

/** Makes lessons of a text's tunes; whoever leaves the page stops it. */
export const useMaking = (): Making => {
  const [said, setSaid] = useState('');
  const [step, setStep] = useState<MakingStep | null>(null);
  const stopped = useRef(false);
  const left = useRef(false);
  useEffect(() => {
    left.current = false;
    return () => {
      left.current = true;
    };
  }, []);
  const make: Making['make'] = async (read, chosen, teacher) => {
    if (chosen.length === 0) return;
    stopped.current = false;
    setSaid('');
    setStep({ done: 0, of: chosen.length });
    try {
      const ids = await makeSome(read, chosen, teacher, (now) => {
        setStep(now);
        return !stopped.current && !left.current;
      });
      const [only] = ids;
      if (!left.current) goTo(ids.length === 1 && only !== undefined ? lessonAddress(only) : '/');
    } catch (error) {
      setSaid(messageOf(error));
      setStep(null);
    }
  };
  const stop = (): void => {
    stopped.current = true;
  };
  return { step, said, make, stop };
};
