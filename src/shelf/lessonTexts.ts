import { createHash } from 'node:crypto';

/** The two texts that a lesson is. */
export interface LessonTexts {
  readonly abc: string;
  /** lesson.json as text. */
  readonly settings: string;
}

/** The files that the texts stand in. */
export const TEXT_NAMES: Readonly<Record<keyof LessonTexts, string>> = {
  abc: 'tune.abc',
  settings: 'lesson.json',
};

/** lesson.json of a lesson about which nothing is decided yet. */
export const NEW_SETTINGS = '{\n  "format": "tuneladder-lesson",\n  "version": 1\n}\n';

/** Hexadecimal digits of a revision: enough to tell any two states of a lesson apart. Ours. */
const REVISION_LENGTH = 24;

/** The sum of a text or of bytes. */
export const sumOf = (content: string | Uint8Array): string =>
  createHash('sha256').update(content).digest('hex');

/** Names a state of both texts: equal texts have equal names, whenever and by whomever they were written. */
export const revisionOf = ({ abc, settings }: LessonTexts): string =>
  createHash('sha256')
    .update(`${Buffer.byteLength(abc)}\n`)
    .update(abc)
    .update(settings)
    .digest('hex')
    .slice(0, REVISION_LENGTH);
