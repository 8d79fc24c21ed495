import { startTransition, useEffect, useMemo, useRef, useState } from 'react';
import type { NoteEdit } from '../../notation/index.ts';
import type { LessonTexts, StoredLesson } from '../../protocol/index.ts';
import type { BarAct, BarReport } from '../workroom/barMessages.ts';
import type { KeyWish, MovedLesson } from '../workroom/messages.ts';
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
  /** What is known of the bar that is looked at. */
  readonly bar: BarReport | null;
  readonly words: Extract<Worked, { kind: 'words' }> | null;
  /** The answer to what was asked last is long in coming. */
  readonly isLate: boolean;
  /** What is asked of the workroom beside that. */
  readonly room: Pick<Workroom, 'look' | 'act' | 'edit' | 'writeChords' | 'move' | 'try'>;
}

/** What the workroom answers beside the lesson itself. */
export interface WorkEvents {
  readonly onActed: (acted: Extract<Worked, { kind: 'acted' }>) => void;
  readonly onEdited: (edited: Extract<Worked, { kind: 'edited' }>) => void;
  readonly onMoved: (moved: MovedLesson) => void;
  readonly onTried: (tried: Extract<Worked, { kind: 'tried' }>) => void;
}

type Made = Omit<Work, 'room' | 'isLate'>;

const NOTHING_MADE: Made = { ladder: null, lesson: null, nothing: null, bar: null, words: null };

const made = (
  before: Made,
  worked: Exclude<Worked, { kind: 'acted' | 'edited' | 'movedTo' | 'tried' }>,
): Made => {
  switch (worked.kind) {
    case 'ladder':
      return { ...before, ladder: worked, nothing: null };
    case 'lesson':
      return { ...before, lesson: worked };
    case 'words':
      return { ...before, words: worked };
    case 'bar':
      return { ...before, bar: worked.bar };
    case 'nothing':
      return { ...before, nothing: worked };
    default:
      return worked satisfies never;
  }
};

/** What is to be worked out and shown. */
export interface Wish {
  readonly texts: LessonTexts;
  readonly stored: StoredLesson;
  readonly hidden: readonly string[];
  readonly barsInLine: number;
}

/** So long an answer may take before that is said, in milliseconds. Ours. */
const LATE = 700;

/** Whether an answer is late: `asked` begins the waiting anew, `answered` ends it. */
const useLateness = () => {
  const [isLate, setLate] = useState(false);
  const waiting = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const [calls] = useState(() => {
    const answered = (): void => {
      clearTimeout(waiting.current);
      setLate(false);
    };
    const asked = (): void => {
      clearTimeout(waiting.current);
      waiting.current = setTimeout(() => setLate(true), LATE);
    };
    return { answered, asked };
  });
  return { isLate, ...calls };
};

/** Has the lesson worked out and engraved anew whenever a text or what is shown changes. */
export const useWork = ({ texts, stored, hidden, barsInLine }: Wish, events: WorkEvents): Work => {
  const [work, setWork] = useState<Made>(NOTHING_MADE);
  const latest = useRef(events);
  latest.current = events;
  const room = useRef<Workroom | null>(null);
  const { isLate, asked, answered } = useLateness();
  useEffect(() => {
    const opened = openWorkroom((worked) => {
      if (worked.kind === 'ladder' || worked.kind === 'nothing') answered();
      if (worked.kind === 'acted') latest.current.onActed(worked);
      else if (worked.kind === 'edited') latest.current.onEdited(worked);
      else if (worked.kind === 'movedTo') latest.current.onMoved(worked.moved);
      else if (worked.kind === 'tried') latest.current.onTried(worked);
      // What has been worked out gives way to the next keystroke: the page is made anew in small pieces.
      else startTransition(() => setWork((before) => made(before, worked)));
    });
    room.current = opened;
    return () => {
      room.current = null;
      answered();
      opened.close();
    };
  }, [answered]);
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
    if (barsInLine === 0) return;
    asked();
    room.current?.ask(order);
  }, [order, barsInLine, asked]);
  const asking = useMemo(
    () => ({
      look: (at: number | null) => room.current?.look(at),
      act: (act: BarAct) => room.current?.act(act),
      edit: (edit: NoteEdit) => room.current?.edit(edit),
      writeChords: () => room.current?.writeChords(),
      move: (wish: KeyWish) => room.current?.move(wish),
      try: (act: BarAct, at: number) => room.current?.try(act, at),
    }),
    [],
  );
  return { ...work, isLate, room: asking };
};
