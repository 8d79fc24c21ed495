import { type RefObject, useEffect, useState } from 'react';

/** Least width of a line with so many bars, in root ems: below it the staves would be hard to read. Ours. */
const ROOM = [
  [4, 46],
  [2, 23],
  [1, 0],
] as const;

/** How many bars a line has room for. @param size - factor on the music; larger music has fewer */
export const useBarsInLine = (host: RefObject<HTMLElement | null>, size: number): number => {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    const observer = new ResizeObserver(() => setWidth(element.clientWidth));
    observer.observe(element);
    return () => observer.disconnect();
  }, [host]);
  if (width === 0) return 0;
  const rootEm = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
  const room = width / (rootEm * size);
  return ROOM.find(([, least]) => room >= least)?.[0] ?? 1;
};
