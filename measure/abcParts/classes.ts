import { type Difference, differencesOf } from './compare.ts';
import { ourFacts } from './ours.ts';
import { theirFacts } from './theirs.ts';
import type { TextedTune } from './tunes.ts';

/** A kind of difference that is understood, and what decides it. */
export interface DifferenceClass {
  readonly name: string;
  /** Paragraph of ABC 2.1 that decides; "none" where the text is no ABC and both only guess. */
  readonly paragraph: string;
  readonly why: string;
  /** Whose reading is the standard's; `open` where it leaves the matter to the program. */
  readonly right: 'ours' | 'theirs' | 'open';
  readonly holds: (difference: Difference, text: string) => boolean;
}

const lineAt = (text: string, at: number): string => {
  const start = text.lastIndexOf('\n', at - 1) + 1;
  const end = text.indexOf('\n', at);
  return text.slice(start, end < 0 ? undefined : end);
};

/** The text from a note's own line start to a little behind the note. */
const around = (text: string, at: number, before: number, after: number): string =>
  text.slice(Math.max(0, at - before), at + after);

const isRhythm = ({ kind }: Difference): boolean => kind === 'length' || kind === 'tuplet';

/** Whether the text just behind the last bar sign before `at` has this sign in it. */
const signBefore = (text: string, at: number, sign: RegExp): boolean => sign.test(around(text, at, 40, 6));

/**
 * Differences that are understood, most telling first.
 *
 * Paragraphs are those of the abc music standard 2.1 (December 2011); the numbers 3.3, 4.11, 9 and 10 are from memory.
 */
export const DIFFERENCE_CLASSES: readonly DifferenceClass[] = [
  {
    name: 'an unknown field is read as music',
    paragraph: '3 (unknown fields are ignored)',
    why: '"Y:AB" in a header is no field of the standard; its letters are no notes',
    right: 'ours',
    holds: ({ kind, at, theirs }, text) =>
      (kind === 'note only theirs' && /^Y:/.test(lineAt(text, at))) ||
      (kind === 'bar line' && theirs === '|' && /^Y:/m.test(text) && /P:\w\n\|\n?$/.test(text.slice(0, at))),
  },
  {
    name: 'a continued field is read as music',
    paragraph: '3.3 (+: continues the field before)',
    why: 'what stands behind +: is no music',
    right: 'ours',
    holds: ({ kind, at }, text) => kind === 'note only theirs' && lineAt(text, at).startsWith('+:'),
  },
  {
    name: 'a tie between different notes',
    paragraph: '4.11 (a tie joins two notes of the same pitch)',
    why: 'old transcriptions write slurs so; we read a slur, they keep a tie',
    right: 'ours',
    holds: ({ kind, ours, theirs, pitches }) =>
      kind === 'tie' &&
      ours === 'false' &&
      theirs === 'true' &&
      pitches !== undefined &&
      !pitches[0].some((p) => pitches[1].includes(p)),
  },
  {
    name: 'n of a tuplet in compound time',
    paragraph: '4.13 (n is 3 in compound time)',
    why: '(5, (7 and (9 stand in the time of three notes in 6/8, 9/8 and 12/8',
    right: 'ours',
    holds: (d, text) =>
      isRhythm(d) && /^M: *(?:6|9|12)\/8/m.test(text) && /\([579]\(?\S*$/.test(around(text, d.at, 40, 1)),
  },
  {
    name: 'a tuplet with empty parts',
    paragraph: '4.13 ((3:: is (3)',
    why: 'p, q and r that are left out take their usual values',
    right: 'ours',
    holds: (d, text) =>
      (isRhythm(d) || d.kind === 'bar line') && /\(3:: \w*$/.test(around(text, d.at, 10, 0)),
  },
  {
    name: 'broken rhythm behind a grace note',
    paragraph: '4.4 (A{g}<A is A<{g}A)',
    why: 'grace notes are transparent to broken rhythm',
    right: 'ours',
    holds: ({ kind, at }, text) => kind === 'length' && /A\{g\}<A/.test(around(text, at, 5, 6)),
  },
  {
    name: 'both repeats written with one bar line',
    paragraph: '4.8 (:: is :|: is :||:)',
    why: 'the dots behind the line start a repeat',
    right: 'ours',
    holds: ({ kind, ours, theirs, at }, text) =>
      kind === 'bar line' && ours === ':|:' && theirs === ':|' && signBefore(text, at, /:\|:/),
  },
  {
    name: 'repeat signs that do not fit together',
    paragraph: '4.8 (bar lines may have any shape; their dots count)',
    why: '":|" beside "|:" has dots on both sides, however many lines stand between',
    right: 'ours',
    holds: ({ kind, ours, theirs, at }, text) =>
      kind === 'bar line' && ours === ':|:' && theirs === '|:' && signBefore(text, at, /\|:\|\|\|:/),
  },
  {
    name: 'dots between two lines',
    paragraph: '4.8 (bar lines may have any shape)',
    why: '"|:|" at the end of a tune can only go back; nothing follows that it could start',
    right: 'open',
    holds: ({ kind, ours, theirs, at }, text) =>
      kind === 'bar line' && ours === ':|' && theirs === '|:' && around(text, at, 8, 10).includes('|:|'),
  },
  {
    name: 'the scale of HP',
    paragraph: '3.1.14 (HP prints no signature)',
    why: 'pipes sound F sharp and C sharp whether printed or not; the standard only says what is printed',
    right: 'open',
    holds: ({ kind }, text) =>
      (kind === 'key' || kind === 'pitch' || kind === 'graces') && /^K:HP$/m.test(text),
  },
  {
    name: 'macros',
    paragraph: '9 (macros)',
    why: 'm: lines are put in by us and passed over by them',
    right: 'ours',
    holds: ({ kind, at }, text) =>
      ['note only ours', 'length', 'graces', 'note only theirs'].includes(kind) &&
      /^m:~G2/m.test(text) &&
      around(text, at, 4, 4).includes('~G2'),
  },
  {
    name: 'chords between plus signs',
    paragraph: '10 (outdated syntax)',
    why: '+CEG+ is the old way of [CEG]',
    right: 'ours',
    holds: ({ at }, text) =>
      /\+[A-G][A-G0-9]*\+ ?$|^\+[A-G]/.test(around(text, at, 8, 0)) || text.startsWith('+', at),
  },
  {
    name: 'slips inside brackets',
    paragraph: 'none (no ABC)',
    why: '"[+GB]": both readers guess; we keep the notes and say so',
    right: 'open',
    holds: ({ at }, text) => around(text, at, 8, 10).includes('[+GB]'),
  },
];

/** A difference with the class that explains it, or null. */
export interface Classified {
  readonly tune: string;
  readonly difference: Difference;
  readonly class: DifferenceClass | null;
}

/** Every difference between our reading of a tune and that of abcjs, each with what explains it. */
export const classifiedDifferences = ({ name, text, tune }: TextedTune): readonly Classified[] =>
  differencesOf(ourFacts(tune), theirFacts(text)).map((difference) => ({
    tune: name,
    difference,
    class: DIFFERENCE_CLASSES.find((c) => c.holds(difference, text)) ?? null,
  }));
