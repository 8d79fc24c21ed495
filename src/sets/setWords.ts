import { countWord, type Rational, rational, toNumber } from '../core/index.ts';
import { noteValueName, tempoWords, titlesOf, type Words } from '../lesson/index.ts';
import { printedChord } from '../music/index.ts';
import type { Corner, CornerChord, SetStep, TuneInSet, TuneSet } from './setOf.ts';

const titleOf = ({ lesson }: TuneInSet): string => titlesOf(lesson)[0] ?? '';

/** "a crotchet". */
const oneOf = (length: Rational, words: Words): string => {
  const name = noteValueName(length, words);
  return `${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name}`;
};

const seamWords = ({ seam }: Corner, next: string, words: Words): string => {
  const { change, pickup } = seam;
  const size = rational(Math.abs(change.num), change.den);
  const longer = toNumber(change) > 0;
  const last = seam.events.findLast((one) => !one.next)?.event.kind === 'rest' ? 'rest' : 'note';
  switch (pickup) {
    case 'leftOut':
      return `The last bar leads on by itself: it has no room for the pick-up of ${next}, which is left out.`;
    case 'none':
      return longer
        ? `${next} has no pick-up: the last ${last} is held ${oneOf(size, words)} longer and fills the bar.`
        : `${next} has no pick-up: it follows the last bar as that is written.`;
    case 'played':
      if (change.num === 0) return `The pick-up of ${next} lies in the last bar, where the tune's own would.`;
      return longer
        ? `The pick-up of ${next} lies in the last bar; the ${last} before it is held ${oneOf(size, words)} longer.`
        : `The pick-up of ${next} takes ${oneOf(size, words)} from the last bar.`;
    default:
      return pickup satisfies never;
  }
};

const KINDS: Readonly<Record<CornerChord['kind'], string>> = {
  dominant: ', the dominant,',
  minorDominant: ', the minor dominant,',
  stepBelow: ', a step below,',
  subdominant: ', the subdominant,',
  asked: '',
};

const turnWords = ({ turn, target, goesOn }: Corner, next: string, words: Words): string => {
  if (turn === null || target === null)
    return `The last chord goes on as far as ${next}: none that leads there agrees with what the fiddle holds.`;
  const { kind, chord, before } = turn;
  if (goesOn)
    return `${printedChord(chord)} goes on to the end of the bar:${kind === 'asked' ? '' : `${KINDS[kind].slice(1)}`} it leads to ${printedChord(target)}.`;
  return `${printedChord(chord)}${KINDS[kind]} leads to ${printedChord(target)}, in the last ${noteValueName(before, words)} of the bar.`;
};

const paceWords = (tune: TuneInSet, next: TuneInSet, step: SetStep): readonly string[] => {
  const same = tune.lesson.dance.id === next.lesson.dance.id && tune.tempos[step] === next.tempos[step];
  if (same) return [];
  const [from, to] = [tune, next].map(({ lesson, tempos }) => tempoWords(lesson, tempos[step]));
  if (tune.lesson.dance.id === next.lesson.dance.id) return [`The tempo changes: ${from}, then ${to}.`];
  const dances = `From ${tune.lesson.dance.name} to ${next.lesson.dance.name}`;
  return [from === to ? `${dances}, both ${from}.` : `${dances}: ${from}, then ${to}.`];
};

/** What happens at the corner behind a tune, in sentences; none behind the last one. */
export const cornerWords = (set: TuneSet, index: number): readonly string[] => {
  const [tune, next] = [set.tunes[index], set.tunes[index + 1]];
  if (tune === undefined || next === undefined || tune.corner === null) return [];
  const { words } = set.settings;
  return [
    seamWords(tune.corner, titleOf(next), words),
    turnWords(tune.corner, titleOf(next), words),
    ...paceWords(tune, next, 'steady'),
  ];
};

/** "twice through". */
export const timesWords = (times: number): string =>
  times === 1 ? 'once through' : times === 2 ? 'twice through' : `${countWord(times)} times through`;
