import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { StoredLesson } from '../../protocol/index.ts';
import { useWork } from '../lesson/useWork.ts';
import { Link } from '../link.tsx';
import { goTo, lessonAddress } from '../route.ts';
import { wording } from '../wording/index.ts';
import type { CameraChapter } from '../workroom/messages.ts';
import { clickInEar, soundA } from './earSounds.ts';
import { useAwake } from './useAwake.ts';

const { camera } = wording;
const NOTHING_HIDDEN: readonly string[] = [];
const IGNORED = {
  onActed: () => undefined,
  onEdited: () => undefined,
  onMoved: () => undefined,
  onTried: () => undefined,
};

/** Seconds since a chapter began, counted while it is shown. */
const useSeconds = (chapter: number): number => {
  const [seconds, setSeconds] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each chapter begins anew
  useEffect(() => {
    const began = performance.now();
    setSeconds(0);
    const tick = setInterval(() => setSeconds(Math.floor((performance.now() - began) / 1000)), 250);
    return () => clearInterval(tick);
  }, [chapter]);
  return seconds;
};

const clock = (seconds: number): string =>
  `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, '0')}`;

interface KeyActs {
  readonly move: (by: number) => void;
  readonly countIn: () => void;
  readonly tune: () => void;
  readonly leave: () => void;
}

/** One key goes on; the others are near it. */
const useCameraKeys = (acts: KeyActs): void => {
  const latest = useRef(acts);
  latest.current = acts;
  useEffect(() => {
    const heard = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const { move, countIn, tune, leave } = latest.current;
      const key = event.key.toLowerCase();
      if ([' ', 'arrowright', 'pagedown', 'enter'].includes(key)) move(1);
      else if (['arrowleft', 'pageup', 'backspace'].includes(key)) move(-1);
      else if (key === 'c') countIn();
      else if (key === 'a') tune();
      else if (key === 'escape') leave();
      else return;
      event.preventDefault();
    };
    addEventListener('keydown', heard);
    return () => removeEventListener('keydown', heard);
  }, []);
};

/** A chapter in large type: what is played, what is said, which bars. */
const ChapterView = ({ chapter }: { readonly chapter: CameraChapter }) => (
  <ol className="segments">
    {chapter.segments.map((segment) => (
      <li key={segment.what}>
        <b>{segment.what}</b>
        {segment.bars !== '' && <span className="bars"> {segment.bars}</span>}
        {segment.say !== '' && <p>{segment.say}</p>}
      </li>
    ))}
  </ol>
);

/** The running order before the camera: one chapter at a time, one key to go on. */
export const CameraPage = ({ id, stored }: { readonly id: string; readonly stored: StoredLesson }) => {
  const texts = useMemo(() => ({ abc: stored.abc, settings: stored.settings }), [stored]);
  const work = useWork({ texts, stored, hidden: NOTHING_HIDDEN, barsInLine: 4 }, IGNORED);
  const [at, setAt] = useState(0);
  const chapters = work.words?.chapters ?? [];
  const chapter = chapters[Math.min(at, chapters.length - 1)];
  const next = chapters[at + 1];
  const seconds = useSeconds(at);
  useAwake();
  const move = useCallback(
    (by: number) => setAt((now) => Math.max(0, Math.min(Math.max(0, chapters.length - 1), now + by))),
    [chapters.length],
  );
  const countIn = (): void => {
    if (chapter?.tempo !== null && chapter?.tempo !== undefined) void clickInEar(chapter.tempo);
  };
  useCameraKeys({ move, countIn, tune: () => void soundA(), leave: () => goTo(lessonAddress(id)) });
  if (chapter === undefined)
    return <main className="camera">{work.nothing?.message ?? wording.loading}</main>;
  return (
    <main className="camera">
      <header>
        <Link to={lessonAddress(id)}>{work.ladder?.title ?? id}</Link>
        <span className="quiet">{camera.place(at + 1, chapters.length)}</span>
        <span className={seconds > chapter.length ? 'clock over' : 'clock'} role="timer">
          {camera.time(clock(seconds), clock(chapter.length))}
        </span>
      </header>
      <h1>{chapter.title}</h1>
      <ChapterView chapter={chapter} />
      <footer>
        <button type="button" className="word" disabled={at === 0} onClick={() => move(-1)}>
          {camera.back}
        </button>
        <button type="button" className="do" disabled={next === undefined} onClick={() => move(1)}>
          {next === undefined ? camera.end : camera.next(next.title)}
        </button>
        {chapter.tempo !== null && (
          <button type="button" className="word" onClick={countIn}>
            {camera.countIn(chapter.tempo.words)}
          </button>
        )}
        <button type="button" className="word" onClick={() => void soundA()}>
          {camera.tuneA}
        </button>
        <p className="quiet">{camera.keys}</p>
      </footer>
    </main>
  );
};
