import type { Lesson } from './lesson.ts';
import type { WayState } from './ways/index.ts';
import { barWord, capital, lengthBeside, type Words } from './words.ts';

/** "Bar 3", "The pick-up to part B": the bar of a way, or where it was. */
const labelOf = ({ way, found }: WayState, { versions, settings }: Lesson): string => {
  const word = barWord(settings.words);
  const at = found.kind === 'orphan' ? way.anchor : found.anchor;
  const bar =
    found.kind === 'orphan' ? undefined : versions.plain.parts.find((p) => p.label === at.part)?.bars[at.bar];
  if (bar === undefined) return `A ${word} of part ${at.part}`;
  if (bar.number !== null) return `${capital(word)} ${bar.number}`;
  return bar.role === 'pickup' ? `The pick-up to part ${at.part}` : `A rest of a ${word} in part ${at.part}`;
};

/** Why a way is not in force; empty: it is. */
const waits = ({ way, outcome }: WayState, words: Words): string => {
  switch (outcome.kind) {
    case 'inForce':
      return '';
    case 'orphan':
      return `The ${barWord(words)} is no longer in the tune; its other way stays in the lesson and comes back with it.`;
    case 'noVersion':
      return `It is for a version "${way.version}" that this lesson does not have. It stays in the lesson.`;
    case 'wrongLength':
      return `This way lasts ${lengthBeside(outcome.way, outcome.bar, words)}, the ${barWord(words)} ${lengthBeside(outcome.bar, outcome.way, words)}: it waits until they are equal.`;
    default:
      return outcome satisfies never;
  }
};

/** What there is to say of another way to play a bar; null where it is in force for the bar that it was written for. */
export const wayRemark = (state: WayState, lesson: Lesson): string | null => {
  const { words } = lesson.settings;
  const waiting = waits(state, words);
  if (waiting === '' && !state.changed) return null;
  const changed = state.changed ? `The ${barWord(words)} has changed in the tune since.` : '';
  return [`${labelOf(state, lesson)}, another way:`, waiting, changed].filter((s) => s !== '').join(' ');
};

/** What there is to say of all other ways to play bars of a lesson. */
export const wayRemarks = (lesson: Lesson): readonly string[] =>
  lesson.ways.flatMap((state) => wayRemark(state, lesson) ?? []);
