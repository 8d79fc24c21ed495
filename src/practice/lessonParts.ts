import { inflateSync, strFromU8 } from 'fflate';
import { type SmallBank, smallBankIn } from '../audio/index.ts';
import type { ScreenMusic } from '../engrave/index.ts';
import type { PracticeData, PracticeSet } from '../lesson/index.ts';
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
  /** The set that the page is of; absent where it is of one lesson. */
  readonly set?: PracticeSet;
}

const partNamed = (id: string): Uint8Array => {
  const text = document.getElementById(id)?.textContent ?? '';
  return inflateSync(Uint8Array.from(atob(text.trim()), (c) => c.charCodeAt(0)));
};

/** Where the tune of some place, from 0, lies in the page. */
const lessonId = (place: number): string => `lesson${place === 0 ? '' : place + 1}`;

/** Reads the lesson out of the page: of a set's page the tune that is wanted, from 0; the first where there is none such. */
export const readLesson = (wanted: number): LessonParts => {
  const id = lessonId(document.getElementById(lessonId(wanted)) === null ? 0 : wanted);
  return JSON.parse(strFromU8(partNamed(id))) as LessonParts;
};

/** Reads the samples out of the page. */
export const readBankPart = (): SmallBank => smallBankIn(partNamed('bank'));

/** The text of the sound thread. */
export const threadScript = (): string => document.getElementById('thread')?.textContent ?? '';
