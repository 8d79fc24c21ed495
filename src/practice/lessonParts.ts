import { inflateSync, strFromU8 } from 'fflate';
import { type SmallBank, smallBankIn } from '../audio/index.ts';
import type { ScreenMusic } from '../engrave/index.ts';
import type { PracticeData } from '../lesson/index.ts';
import type { Key } from '../player/index.ts';

/** What a page carries beside the program. */
export interface LessonParts {
  readonly data: PracticeData;
  readonly music: readonly ScreenMusic[];
  /** Keys to be worked out before they are needed. */
  readonly keys: readonly Key[];
  /** Factor on the sound: what brings the usual mix to the loudness of the tracks. */
  readonly gain: number;
  /** What is inside the page beside the lesson, and under which licences. */
  readonly licences: readonly string[];
}

const partNamed = (id: string): Uint8Array => {
  const text = document.getElementById(id)?.textContent ?? '';
  return inflateSync(Uint8Array.from(atob(text.trim()), (c) => c.charCodeAt(0)));
};

/** Reads the lesson out of the page. */
export const readLesson = (): LessonParts => JSON.parse(strFromU8(partNamed('lesson'))) as LessonParts;

/** Reads the samples out of the page. */
export const readBankPart = (): SmallBank => smallBankIn(partNamed('bank'));

/** The text of the sound thread. */
export const threadScript = (): string => document.getElementById('thread')?.textContent ?? '';
