import { countWord } from '../core/index.ts';
import { formatPitch, type Pitch, printedName } from '../music/index.ts';
import type { ChoiceReason } from './choiceFacts.ts';

const strokesWord = (strokes: number): string =>
  `${countWord(strokes)} ${strokes === 1 ? 'stroke' : 'strokes'}`;

const names = (pitches: readonly Pitch[]): string => pitches.map(printedName).join(' and ');

/** The pitches of one list that the other has not got as often. */
const without = (these: readonly Pitch[], those: readonly Pitch[]): readonly Pitch[] => {
  const left = those.map(formatPitch);
  return these.filter((pitch) => {
    const at = left.indexOf(formatPitch(pitch));
    if (at !== -1) left.splice(at, 1);
    return at === -1;
  });
};

const reasonWords = (reason: ChoiceReason): string => {
  switch (reason.kind) {
    case 'derived':
      return 'the usual choice';
    case 'fuller':
    case 'sparser':
      return reason.kind;
    case 'allNotes':
      return 'all the notes';
    case 'onlyBeats':
      return 'barest: only the beats';
    case 'run':
      return `keeps the run ${reason.up ? 'up' : 'down'} to the ${printedName(reason.to)}`;
    case 'topNote':
      return `keeps the top note, ${printedName(reason.pitch)}`;
    case 'instead': {
      const gained = without(reason.gained, reason.lost);
      const lost = without(reason.lost, reason.gained);
      if (gained.length === 0) return 'as many notes in another rhythm';
      return `${names(gained)} instead of ${names(lost)}`;
    }
    case 'evenStrokes':
      return `${strokesWord(reason.strokes)}, comes out on a down-bow`;
    case 'oddStrokes':
      return `${strokesWord(reason.strokes)}, turns the bow round`;
    default:
      return reason satisfies never;
  }
};

/**
 * Why a teacher may choose a bar, in a few words.
 * @example "fuller: keeps the run up to the A; six strokes, comes out on a down-bow"
 */
export const choiceWords = (reasons: readonly ChoiceReason[]): string => {
  const [main = '', ...others] = reasons.map(reasonWords);
  const joint = main.includes(':') ? '; ' : ': ';
  return others.length === 0 ? main : `${main}${joint}${others.join('; ')}`;
};
