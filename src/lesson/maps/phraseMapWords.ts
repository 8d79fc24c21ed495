import { countWord } from '../../core/index.ts';
import { barWord, capital, joined, listOfBars, type Words } from '../words.ts';
import type { LearningStep, Likeness, MappedBar, PhraseMap } from './phraseMap.ts';

const INTERVALS = ['', 'step', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'octave'];

/** "a step lower", "an octave higher". */
export const movedWords = (steps: number): string => {
  const name = INTERVALS[Math.abs(steps)] ?? `${Math.abs(steps)} steps`;
  return `${name === 'octave' ? 'an' : 'a'} ${name} ${steps > 0 ? 'higher' : 'lower'}`;
};

/** "Sixteen bars, nine of them different." */
export const phraseMapSummary = ({ bars, different }: PhraseMap, words: Words): string => {
  const bar = barWord(words);
  if (bars.length === 1) return `One ${bar}.`;
  if (different === bars.length) return `All ${countWord(bars.length)} ${bar}s are different.`;
  if (different === 1) return `One ${bar}, played ${countWord(bars.length)} times.`;
  return `${capital(countWord(bars.length))} ${bar}s, ${countWord(different)} of them different.`;
};

const numberAt = (map: PhraseMap, index: number): string => String(map.bars[index]?.number ?? '');

const listAt = (map: PhraseMap, indices: readonly number[], words: Words): string =>
  listOfBars(
    indices.map((i) => numberAt(map, i)),
    words,
  );

/** How a new bar of a step leans on one that is known by then; null where it doesn't. */
const leaningOf = (map: PhraseMap, index: number, words: Words): string | null => {
  const bar = map.bars[index];
  if (bar === undefined || bar.likeness.kind === 'new' || bar.likeness.kind === 'same') return null;
  const other = map.bars[bar.likeness.as];
  if (other === undefined || other.step > bar.step) return null;
  return leaningWords(bar.likeness, `${barWord(words)} ${other.number}`);
};

const leaningWords = (likeness: Likeness, other: string): string => {
  switch (likeness.kind) {
    case 'new':
      return '';
    case 'same':
      return `is ${other} again`;
    case 'moved':
      return `is ${other} ${movedWords(likeness.steps)}`;
    case 'begins':
      return `begins as ${other} and goes on otherwise`;
    case 'ends':
      return `ends as ${other} does`;
    default:
      return likeness satisfies never;
  }
};

/** Bars of the step's part that are whole once it is learnt, where this step completes the part. */
const completes = (map: PhraseMap, step: LearningStep): boolean => {
  const own = map.bars.filter((b) => b.part === step.part);
  return own.every((b) => b.step <= step.number) && own.some((b) => b.step === step.number);
};

/** A step of the order of learning, in words: its bars, what they bring with them, what they lean on. */
export const stepWords = (map: PhraseMap, step: LearningStep, words: Words): string => {
  const [only, ...others] = step.fresh;
  const bars = capital(listAt(map, step.fresh, words));
  const again = step.again.length === 0 ? '' : `; you then have ${listAt(map, step.again, words)} too`;
  const whole = completes(map, step) ? ` That is the whole of part ${step.part}.` : '';
  if (only !== undefined && others.length === 0) {
    const how = leaningOf(map, only, words);
    return `${bars}${how === null ? '' : ` ${how}`}${again}.${whole}`;
  }
  const leaning = step.fresh.flatMap((i) => {
    const how = leaningOf(map, i, words);
    return how === null ? [] : [`${barWord(words)} ${numberAt(map, i)} ${how}`];
  });
  const leans = leaning.length === 0 ? '' : ` ${capital(joined(leaning))}.`;
  return `${bars}${again}.${leans}${whole}`;
};

/** What stands in a bar's box beside its number: which bar it is like. Empty for a new bar. */
export const boxWords = (map: PhraseMap, { likeness }: MappedBar): readonly string[] => {
  if (likeness.kind === 'new') return [];
  const other = numberAt(map, likeness.as);
  switch (likeness.kind) {
    case 'same':
      return likeness.dressed ? [`= ${other}`, 'other ornaments'] : [`= ${other}`];
    case 'moved':
      return [`as ${other}, ${movedWords(likeness.steps)}`];
    case 'begins':
      return [`begins as ${other}`];
    case 'ends':
      return [`ends as ${other}`];
    default:
      return likeness satisfies never;
  }
};
