import {
  type OrnamentNames,
  type StandingNote,
  type StandingWords,
  TECHNIQUES,
  type Technique,
  type TechniqueLink,
} from '../lesson/index.ts';
import { type ReadWords, readWordsFile, writeWordsFile } from '../lessonfile/index.ts';
import type { OwnNames, StandingWish, WordsRequest } from '../protocol/index.ts';

/** What words.json says. */
export type Words = Extract<ReadWords, { kind: 'words' }>;

/** Words about which nothing is decided yet. */
export const NO_WORDS: Words = { kind: 'words', names: {}, standing: {} };

const linkOf = (line: string): TechniqueLink => {
  const [address = '', ...title] = line.split(/\s+/);
  if (!/^[a-z][a-z0-9+.-]*:\/\//i.test(address)) return { lesson: line };
  return { web: address, ...(title.length === 0 ? {} : { title: title.join(' ') }) };
};

const lineOf = (link: TechniqueLink): string =>
  'lesson' in link ? link.lesson : [link.web, ...(link.title === undefined ? [] : [link.title])].join(' ');

const linesIn = (text: string): readonly string[] =>
  text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');

/** A technique's standing words as the page has them. */
export const wishOfNote = ({ words = '', drill = [], see = [] }: StandingNote): StandingWish => ({
  words,
  drill: drill.join('\n'),
  see: see.map(lineOf).join('\n'),
});

const noteOf = ({ words, drill, see }: StandingWish): StandingNote => ({
  ...(words.trim() === '' ? {} : { words: words.trim() }),
  ...(linesIn(drill).length === 0 ? {} : { drill: linesIn(drill) }),
  ...(linesIn(see).length === 0 ? {} : { see: linesIn(see).map(linkOf) }),
});

/** The teacher's own names, empty where there is none. */
export const ownNamesOf = ({
  cut = '',
  treble = '',
  run = '',
  roll = '',
}: Partial<OrnamentNames>): OwnNames => ({
  cut,
  treble,
  run,
  roll,
});

const techniqueNamed = (name: string): Technique | null => TECHNIQUES.find((one) => one === name) ?? null;

const withNames = (words: Words, names: OwnNames | undefined): Words =>
  names === undefined
    ? words
    : { ...words, names: Object.fromEntries(Object.entries(names).filter(([, name]) => name !== '')) };

const withNote = (words: Words, { technique: name, ...wish }: NonNullable<WordsRequest['note']>) => {
  const technique = techniqueNamed(name);
  if (technique === null) return `There is no technique "${name}".`;
  const before = wishOfNote(words.standing[technique] ?? {});
  const given = Object.fromEntries(Object.entries(wish).filter(([, text]) => text !== undefined));
  const standing: StandingWords = { ...words.standing, [technique]: noteOf({ ...before, ...given }) };
  return { ...words, standing };
};

/**
 * The text of words.json with what is asked for.
 * @returns the text; or in a sentence why it cannot be
 */
export const changedWords = (
  words: Words,
  { names, note }: WordsRequest,
):
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'problem'; readonly message: string } => {
  const named = withNames(words, names);
  const changed = note === undefined ? named : withNote(named, note);
  if (typeof changed === 'string') return { kind: 'problem', message: changed };
  const text = writeWordsFile(changed);
  const read = readWordsFile(text);
  if (read.kind === 'words') return { kind: 'text', text };
  return { kind: 'problem', message: read.problems.map(({ message }) => message).join(' ') };
};
