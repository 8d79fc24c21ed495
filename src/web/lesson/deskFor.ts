import type { StoredLesson } from '../../protocol/index.ts';
import type { Unsaved } from '../desk/deskState.ts';
import { type LessonDesk, lessonDesk } from '../desk/lessonDesk.ts';
import { Away, server } from '../server.ts';
import { wording } from '../wording/index.ts';

const placeOf = (id: string): string => `unsaved/${id}`;

const isTexts = (value: unknown): boolean =>
  typeof value === 'object' &&
  value !== null &&
  'abc' in value &&
  'settings' in value &&
  typeof value.abc === 'string' &&
  typeof value.settings === 'string';

/** Work that this browser had kept, because the server did not get it. */
const keptFor = (id: string): Unsaved | null => {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(placeOf(id)) ?? 'null');
    if (typeof kept !== 'object' || kept === null || !('revision' in kept)) return null;
    return 'base' in kept && 'texts' in kept && isTexts(kept.base) && isTexts(kept.texts)
      ? (kept as Unsaved)
      : null;
  } catch {
    return null;
  }
};

const keep = (id: string, unsaved: Unsaved | null): void => {
  try {
    if (unsaved === null) localStorage.removeItem(placeOf(id));
    else localStorage.setItem(placeOf(id), JSON.stringify(unsaved));
  } catch {
    // A browser without storage: the page itself still has it, and says that it is not saved.
  }
};

/** Puts a fetched lesson on a desk that saves to the server and keeps unsaved work in the browser. */
export const deskFor = (stored: StoredLesson): LessonDesk =>
  lessonDesk(
    {
      save: (request) => server.save(stored.id, request),
      load: () => server.lesson(stored.id),
      keep: (unsaved) => keep(stored.id, unsaved),
      now: () => performance.now(),
      later: (act, milliseconds) => {
        const timer = setTimeout(act, milliseconds);
        return () => clearTimeout(timer);
      },
      isAway: (error) => error instanceof Away,
      words: {
        fromElsewhere: wording.safety.fromElsewhere,
        mergedWithElsewhere: wording.safety.merged,
        broughtBack: wording.safety.broughtBack,
      },
    },
    stored,
    keptFor(stored.id),
  );
