import { useEffect, useMemo, useRef, useState } from 'react';
import type { LessonTexts, StoredLesson } from '../../protocol/index.ts';
import { openWorkroom, type Worked, type Workroom } from '../workroom/workroom.ts';

/** The ladder as last worked out. */
export type LadderWork = Extract<Worked, { kind: 'ladder' }>;
/** What playing and the panels need, as last worked out. */
export type LessonWork = Extract<Worked, { kind: 'lesson' }>;
/** Why there is nothing to show. */
type NoWork = Extract<Worked, { kind: 'nothing' }>;

/** What the workroom has made of the lesson. */
export interface Work {
  readonly ladder: LadderWork | null;
  readonly lesson: LessonWork | null;
  /** The text as it is now gives no lesson; what is shown is the last that did. */
  readonly nothing: NoWork | null;
}

interface Wish {
  readonly texts: LessonTexts;
  readonly stored: StoredLesson;
  readonly hidden: readonly string[];
  readonly barsInLine: number;
}

/** Has the lesson worked out and engraved anew whenever a text or what is shown changes. */
export const useWork = ({ texts, stored, hidden, barsInLine }: Wish): Work => {
  const [work, setWork] = useState<Work>({ ladder: null, lesson: null, nothing: null });
  const room = useRef<Workroom | null>(null);
  useEffect(() => {
    const opened = openWorkroom((worked) =>
      setWork((before) => {
        if (worked.kind === 'ladder') return { ...before, ladder: worked, nothing: null };
        if (worked.kind === 'lesson') return { ...before, lesson: worked };
        return { ...before, nothing: worked };
      }),
    );
    room.current = opened;
    return () => {
      room.current = null;
      opened.close();
    };
  }, []);
  const order = useMemo(
    () => ({
      abc: texts.abc,
      settings: texts.settings,
      words: stored.words,
      today: stored.today,
      hidden,
      barsInLine,
    }),
    [texts, stored, hidden, barsInLine],
  );
  useEffect(() => {
    if (barsInLine > 0) room.current?.ask(order);
  }, [order, barsInLine]);
  return work;
};
