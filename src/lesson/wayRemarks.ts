import { attachedLabel } from './barLabel.ts';
import type { Lesson } from './lesson.ts';
import type { WayState } from './ways/index.ts';
import { barWord, lengthBeside, type Words } from './words.ts';

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
  const label = attachedLabel(state.found, state.way.anchor.part, lesson.versions.plain, words);
  const changed = state.changed ? `The ${barWord(words)} has changed in the tune since.` : '';
  return [`${label}, another way:`, waiting, changed].filter((s) => s !== '').join(' ');
};

/** What there is to say of all other ways to play bars of a lesson. */
export const wayRemarks = (lesson: Lesson): readonly string[] =>
  lesson.ways.flatMap((state) => wayRemark(state, lesson) ?? []);
