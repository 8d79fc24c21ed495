import { useEffect, useMemo, useSyncExternalStore } from 'react';
import type { DeskState } from '../desk/deskState.ts';
import type { LessonDesk } from '../desk/lessonDesk.ts';
import { useNews } from '../newsroom.ts';

/** The desk's state; the desk hears of changes elsewhere, and nobody leaves with unsaved work unasked. */
export const useDesk = (id: string, desk: LessonDesk): DeskState => {
  const state = useSyncExternalStore(desk.subscribe, desk.state);
  useNews(
    useMemo(
      () => ({
        news: (told) => {
          if (told.kind === 'lesson' && told.id === id) desk.hearOf(told.revision);
        },
        there: (there) => {
          if (there) desk.wakeUp();
        },
      }),
      [id, desk],
    ),
  );
  const isSafe = state.safety === 'saved';
  useEffect(() => {
    if (isSafe) return;
    const ask = (event: BeforeUnloadEvent): void => event.preventDefault();
    addEventListener('beforeunload', ask);
    return () => removeEventListener('beforeunload', ask);
  }, [isSafe]);
  return state;
};
