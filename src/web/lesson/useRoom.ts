import { type RefObject, useEffect, useState } from 'react';

/** Least width of a line with so many bars, in root ems: below it the staves would be hard to read. Ours. */
const ROOM = [
  [4, 46],
  [2, 23],
  [1, 0],
] as const;

/** The room that the music has. */
export interface Room {
  /** How many bars a line has room for; 0: not known yet. */
  readonly barsInLine: number;
  /** What is seen of the music at once, in pixels; null: the page is as long as it likes. */
  readonly height: number | null;
}

/** Wider windows show the music in a frame of its own, see bench.css. */
const FRAMED = '(min-width: 60rem)';

/** The room in `host`. @param size - factor on the music; larger music has fewer bars in a line */
export const useRoom = (host: RefObject<HTMLElement | null>, size: number): Room => {
  const [[width, height], setRoom] = useState([0, 0]);
  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    const observer = new ResizeObserver(() => setRoom([element.clientWidth, element.clientHeight]));
    observer.observe(element);
    return () => observer.disconnect();
  }, [host]);
  if (width === 0) return { barsInLine: 0, height: null };
  const rootEm = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
  const room = width / (rootEm * size);
  return {
    barsInLine: ROOM.find(([, least]) => room >= least)?.[0] ?? 1,
    height: matchMedia(FRAMED).matches ? height : null,
  };
};
