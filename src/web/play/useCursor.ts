import { type RefObject, useEffect } from 'react';
import { cursorOf } from '../../player/index.ts';
import type { WholeMusic } from '../workroom/workroom.ts';
import type { Play } from './usePlay.ts';

/** The line that sounds is kept between these shares of the height that is seen. Ours. */
const KEPT = { top: 0.1, bottom: 0.75, to: 0.25 } as const;

const calm = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** Brings a line into view when it is about to leave it. */
const bringIntoView = (element: HTMLElement): void => {
  const scroller = element.closest<HTMLElement>('.stage');
  if (scroller === null) return;
  const frame = scroller.getBoundingClientRect();
  const box = element.getBoundingClientRect();
  const top = (box.top - frame.top) / frame.height;
  const bottom = (box.bottom - frame.top) / frame.height;
  if (top > KEPT.top && bottom < KEPT.bottom) return;
  scroller.scrollTo({
    top: scroller.scrollTop + box.top - frame.top - KEPT.to * frame.height,
    behavior: calm() ? 'auto' : 'smooth',
  });
};

/** Lets a cursor go through all staves with the sound. */
export const useCursor = (
  host: RefObject<HTMLElement | null>,
  music: WholeMusic | null,
  play: Play,
): void => {
  const { isPlaying, position, order, begins, ends } = play;
  const showBeginning = (): void => {
    const element = host.current?.querySelector<HTMLElement>(`[data-bar="${begins}"]`)?.closest('.line');
    if (element instanceof HTMLElement) bringIntoView(element);
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: choosing another bar alone moves nothing
  useEffect(() => {
    if (isPlaying) showBeginning();
  }, [isPlaying]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the same
  useEffect(() => {
    if (ends > 0) showBeginning();
  }, [ends]);
  useEffect(() => {
    if (!isPlaying || music === null) return;
    const cursor = cursorOf();
    let frame = 0;
    let sounding = -1;
    const follow = (): void => {
      frame = requestAnimationFrame(follow);
      const at = position();
      const bar = at === null ? undefined : order[at.index];
      const place = bar === undefined ? -1 : music.lines.findIndex((l) => bar >= l.from && bar < l.to);
      const line = music.lines[place];
      const element = host.current?.querySelectorAll<HTMLElement>('.line')[place];
      if (at === null || bar === undefined || line === undefined || element === undefined) {
        cursor.hide();
        return;
      }
      if (place !== sounding) bringIntoView(element);
      sounding = place;
      cursor.put({ line, element }, bar, at, music.versions);
    };
    follow();
    return () => {
      cancelAnimationFrame(frame);
      cursor.hide();
    };
  }, [host, music, isPlaying, position, order]);
};
