import {
  type Alter,
  accidentalsOf,
  type Key,
  keyOf,
  type Mode,
  NO_KEY,
  type PitchClass,
  STEPS,
  type Step,
} from '../../music/index.ts';

/** First three letters of each mode's name; "m" alone is minor. Source: ABC standard 2.1, section 3.1.14. */
const MODE_WORDS: Readonly<Record<string, Mode>> = {
  maj: 'major',
  ion: 'major',
  min: 'minor',
  aeo: 'minor',
  mix: 'mixolydian',
  dor: 'dorian',
  phr: 'phrygian',
  lyd: 'lydian',
  loc: 'locrian',
};
/** How we write each mode behind its keynote. */
const MODE_SUFFIX: Readonly<Record<Mode, string>> = {
  major: '',
  minor: 'm',
  mixolydian: 'mix',
  dorian: 'dor',
  phrygian: 'phr',
  lydian: 'lyd',
  locrian: 'loc',
};
const SIGN_OF_ALTER: Readonly<Record<Alter, string>> = { [-2]: '__', [-1]: '_', 0: '=', 1: '^', 2: '^^' };
const ALTER_OF_SIGN: Readonly<Record<string, Alter>> = { __: -2, _: -1, '=': 0, '^': 1, '^^': 2 };

/** What a `K:` says. `key` is null where it names none ("K: clef=bass" keeps the key in force). */
export interface ReadKey {
  readonly key: Key | null;
  readonly problem: 'none' | 'unreadable' | 'tooManyAccidentals' | 'unknownMode';
  /** Words that could not be read. */
  readonly unread: readonly string[];
  /** Arguments such as `clef=bass` or `transpose=-2`. */
  readonly clefWords: readonly string[];
}

const CLEF_WORD =
  /^(?:(?:clef|middle|m|transpose|t|octave|stafflines|style|name|nm|sname|snm|stem|cue|score|shift|sound)=|(?:treble|bass[3]?|alto[124]?|tenor|soprano|mezzosoprano|baritone|perc|none)(?:[+-]8)?$)/i;
const PIPE_ACCIDENTALS: Key['accidentals'] = { ...accidentalsOf(0), F: 1, C: 1 };
const PIPE_TONIC: PitchClass = { step: 'A', alter: 0 };

/** Highland pipes: both sound F♯ and C♯; `HP` prints no signature. Source: section 3.1.14; the sounding scale: common practice. */
const pipeKey = (printed: boolean): Key => ({
  tonic: PIPE_TONIC,
  mode: 'mixolydian',
  accidentals: PIPE_ACCIDENTALS,
  signature: printed ? 'pipes' : 'none',
});

const modeOf = (word: string): Mode | null => {
  const text = word.toLowerCase();
  if (text === '') return 'major';
  if (text === 'm') return 'minor';
  return MODE_WORDS[text.slice(0, 3)] ?? null;
};

const withAccidentals = (key: Key, words: readonly string[]): Key => {
  if (words.length === 0) return key;
  const accidentals: Record<Step, Alter> = { ...key.accidentals };
  for (const word of words) {
    const match = /^(__|_|=|\^\^|\^)([A-Ga-g])$/.exec(word);
    const alter = ALTER_OF_SIGN[match?.[1] ?? ''];
    if (alter !== undefined) accidentals[(match?.[2] ?? '').toUpperCase() as Step] = alter;
  }
  return { ...key, accidentals };
};

const isAccidentalWord = (word: string): boolean => /^(?:(?:__|_|=|\^\^|\^)[A-Ga-g])+$/.test(word);

/** "^f_b" → "^f", "_b". */
const splitAccidentals = (word: string): readonly string[] => word.match(/(?:__|_|=|\^\^|\^)[A-Ga-g]/g) ?? [];

/**
 * Reads the value of a `K:` field.
 * @see Source: ABC standard 2.1, section 3.1.14 "K: - key", and 4.6 "Clefs and transposition" for the arguments
 * @example readKey('Ador').key // one sharp, keynote A
 */
export const readKey = (value: string): ReadKey => {
  const words = value.split(/\s+/).filter((w) => w !== '');
  const clefWords = words.filter((w, i) => CLEF_WORD.test(w) && !(i === 0 && /^none$/i.test(w)));
  const rest = words.filter((w) => !clefWords.includes(w));
  const done = (
    key: Key | null,
    problem: ReadKey['problem'] = 'none',
    unread: readonly string[] = [],
  ): ReadKey => ({
    key,
    problem,
    unread,
    clefWords,
  });
  const first = rest[0];
  if (first === undefined) return done(clefWords.length > 0 ? null : NO_KEY);
  const accidentals = rest.filter(isAccidentalWord).flatMap(splitAccidentals);
  if (first === 'HP' || first === 'Hp') return done(pipeKey(first === 'Hp'));
  if (/^none$/i.test(first)) return done(withAccidentals(NO_KEY, accidentals));
  if (isAccidentalWord(first))
    return done(withAccidentals({ ...NO_KEY, signature: 'explicit' }, accidentals));
  const named = /^([A-Ga-g])([#b♯♭]?)(.*)$/.exec(first);
  if (named === null) return done(null, 'unreadable', [first]);
  const sign = named[2] ?? '';
  const tonic: PitchClass = {
    step: (named[1] ?? '').toUpperCase() as Step,
    alter: sign === '#' || sign === '♯' ? 1 : sign === '' ? 0 : -1,
  };
  return namedKey(tonic, named[3] ?? '', rest.slice(1), accidentals, done);
};

const namedKey = (
  tonic: PitchClass,
  glued: string,
  others: readonly string[],
  accidentals: readonly string[],
  done: (key: Key | null, problem?: ReadKey['problem'], unread?: readonly string[]) => ReadKey,
): ReadKey => {
  const words = others.filter((w) => !isAccidentalWord(w));
  const modeWord = glued !== '' ? glued : (words[0] ?? '');
  const unread = glued !== '' ? words : words.slice(1);
  if (/^exp$/i.test(modeWord) || words.some((w) => /^exp$/i.test(w))) {
    const explicit: Key = { tonic, mode: null, accidentals: accidentalsOf(0), signature: 'explicit' };
    return done(withAccidentals(explicit, accidentals));
  }
  const mode = modeOf(modeWord);
  try {
    const key = withAccidentals(keyOf(tonic, mode ?? 'major'), accidentals);
    return mode === null ? done(key, 'unknownMode', [modeWord, ...unread]) : done(key, 'none', unread);
  } catch (error) {
    if (error instanceof RangeError) return done(null, 'tooManyAccidentals', unread);
    throw error;
  }
};

const tonicText = (tonic: PitchClass): string =>
  tonic.step + (tonic.alter > 0 ? '#'.repeat(tonic.alter) : 'b'.repeat(-tonic.alter));

const accidentalText = (key: Key, plain: Key['accidentals']): string =>
  STEPS.filter((step) => key.accidentals[step] !== plain[step])
    .map((step) => ` ${SIGN_OF_ALTER[key.accidentals[step]]}${step.toLowerCase()}`)
    .join('');

/** The value of a `K:` field that says this key. */
export const writeKey = (key: Key): string => {
  if (key.signature === 'pipes') return 'Hp';
  if (key.signature === 'none' && key.tonic !== null) return 'HP';
  if (key.signature === 'none') return `none${accidentalText(key, accidentalsOf(0))}`;
  if (key.signature === 'explicit') {
    const tonic = key.tonic === null ? '' : `${tonicText(key.tonic)} exp`;
    const accidentals = accidentalText(key, accidentalsOf(0)).trim();
    // A bare "K:" would say that there is no key at all, so an empty list names one natural.
    return tonic === '' ? accidentals || '=c' : `${tonic} ${accidentals}`.trim();
  }
  if (key.tonic === null || key.mode === null) return 'none';
  const plain = keyOf(key.tonic, key.mode).accidentals;
  return tonicText(key.tonic) + MODE_SUFFIX[key.mode] + accidentalText(key, plain);
};

/**
 * A key that somebody names as a `K:` does: "D", "Bb", "Ador".
 * @returns its mode is null where the keynote stands alone; null where it names no keynote
 */
export const readKeyName = (
  text: string,
): { readonly tonic: PitchClass; readonly mode: Mode | null } | null => {
  const name = text.trim();
  const [, letter, sign = ''] = /^([A-Ga-g])([#b♯♭]?)$/.exec(name) ?? [];
  if (letter !== undefined) {
    const alter = sign === '#' || sign === '♯' ? 1 : sign === '' ? 0 : -1;
    return { tonic: { step: letter.toUpperCase() as Step, alter }, mode: null };
  }
  const { key, problem, unread } = readKey(name);
  if (key?.tonic == null || key.mode === null || problem !== 'none' || unread.length > 0) return null;
  return { tonic: key.tonic, mode: key.mode };
};
