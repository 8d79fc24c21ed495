import type { StringName } from '../../fiddle/index.ts';
import { isSamePitch, printedName } from '../../music/index.ts';
import { fingerHeight, fingerName, fingerOrdinal } from '../fingerWords.ts';
import { joinedPieces, type Piece, type Saying, type Stated, said, saying } from '../notes/claims.ts';
import { joined, listOfBars, type Words } from '../words.ts';
import { type FingerDot, type FingerMap, MAP_STRINGS } from './fingerMap.ts';

const nameOf = ({ pitch, at }: FingerDot): Stated => ({
  words: printedName(pitch),
  claim: { kind: 'pitch', version: 'full', at, pitch },
});

const stringOf = ({ string, at }: FingerDot): Stated => ({
  words: `${string} string`,
  claim: { kind: 'string', version: 'full', at, string },
});

/** The finger of a dot in these words; without words where they stand elsewhere in the sentence. */
const fingerOf = (dot: FingerDot, words = ''): Stated => ({
  words,
  claim: { kind: 'finger', version: 'full', at: dot.at, finger: dot.finger, height: fingerHeight(dot) },
});

const barsOf = ({ bars, at }: FingerDot, words: Words): Stated => ({
  words: listOfBars(bars.map(String), words),
  claim: { kind: 'bars', version: 'full', at },
});

/** "F♯ on the D string", with its finger as a fact. */
const onString = (dot: FingerDot): readonly Piece[] =>
  said`${nameOf(dot)}${fingerOf(dot)} on the ${stringOf(dot)}`;

const listed = (dots: readonly FingerDot[]): readonly Piece[] => joinedPieces(dots.map(onString));

/** The second finger is what a key is recognised by: where it is high and where it is low. */
const secondFingers = (dots: readonly FingerDot[]): readonly Saying[] => {
  const of = (height: string): readonly FingerDot[] =>
    dots.filter((d) => d.finger === 2 && fingerHeight(d) === height);
  const [low, high] = [of('low'), of('high')];
  if (low.length > 0 && high.length > 0)
    return [saying(said`The second finger is high for ${listed(high)}, low for ${listed(low)}.`)];
  const [only, height] = low.length > 0 ? [low, 'low'] : [high, 'high'];
  const [first, ...others] = only;
  if (first === undefined) return [];
  if (others.length === 0) return [saying(said`${onString(first)} is a ${height} second finger.`)];
  return [saying(said`Every second finger is ${height}: ${listed(only)}.`)];
};

/** First, third and fourth fingers that don't lie at home. */
const otherFingers = (dots: readonly FingerDot[]): readonly Saying[] =>
  ([1, 3, 4] as const).flatMap((finger) =>
    ['low', 'high', 'stretched'].flatMap((height) => {
      const found = dots.filter((d) => d.finger === finger && fingerHeight(d) === height);
      if (found.length === 0) return [];
      const name = `${height} ${fingerOrdinal(finger)} finger`;
      return [saying(said`${listed(found)} ${found.length === 1 ? `is a ${name}` : `are ${name}s`}.`)];
    }),
  );

/** A finger that has two places on one string: the tune has both. */
const twoPlaces = (dots: readonly FingerDot[]): readonly Saying[] =>
  MAP_STRINGS.flatMap((string) =>
    ([1, 2, 3] as const).flatMap((finger) => {
      const found = dots.filter((d) => d.string === string && d.finger === finger && d.position === 1);
      const [first] = found;
      if (first === undefined || found.length < 2) return [];
      const names = joinedPieces(found.map((d) => said`${nameOf(d)}${fingerOf(d)}`));
      return [
        saying(said`On the ${stringOf(first)} the ${fingerOrdinal(finger)} finger has two places: ${names}.`),
      ];
    }),
  );

const abovePosition = (dots: readonly FingerDot[]): readonly Saying[] =>
  dots
    .filter((d) => d.position > 1)
    .map((d) => saying(said`${onString(d)} lies above first position: ${fingerOf(d, fingerName(d))}.`));

/** A note that is also an open string, played with the fourth finger here and there: more bars than this is everywhere. Ours. */
const MOST_BARS = 4;

const fourthForOpen = (dots: readonly FingerDot[], words: Words): readonly Saying[] =>
  dots
    .filter((d) => d.finger === 4 && d.position === 1 && d.semitones === 7 && d.string !== 'E')
    .map((d) => {
      const often = d.bars.length === 0 || d.bars.length > MOST_BARS;
      const where = often ? 'in places' : said`in ${barsOf(d, words)}`;
      const open = dots.find((o) => o.finger === 0 && isSamePitch(o.pitch, d.pitch));
      const fourth = said`the ${fingerOf(d, 'fourth finger')} on the ${stringOf(d)}`;
      return saying(
        open === undefined
          ? said`${nameOf(d)} ${where} is ${fourth}.`
          : said`${nameOf(open)} is ${fingerOf(open, 'open')}, but ${where} ${fourth}.`,
      );
    });

const oneNoteOnString = (dots: readonly FingerDot[], words: Words): readonly Saying[] =>
  MAP_STRINGS.flatMap((string) => {
    const [only, ...others] = dots.filter((d) => d.string === string);
    if (only === undefined || others.length > 0 || only.bars.length === 0) return [];
    const where = only.bars.length > MOST_BARS ? [] : said`, in ${barsOf(only, words)}`;
    return [
      saying(
        said`The ${stringOf(only)} has one note only: ${nameOf(only)}, ${fingerOf(only, fingerName(only))}${where}.`,
      ),
    ];
  });

/** "D string: D open, E first, F♯ high second": what lies where, for each string that the tune needs. */
const stringByString = (dots: readonly FingerDot[]): readonly string[] =>
  MAP_STRINGS.flatMap((string) => {
    const own = dots.filter((d) => d.string === string);
    if (own.length < 2) return [];
    const fingers = own.map((d) => {
      const height = fingerHeight(d);
      return `${printedName(d.pitch)} ${height === '' ? '' : `${height} `}${fingerOrdinal(d.finger)}`;
    });
    return [`${string} string: ${fingers.join(', ')}.`];
  });

const idle = (used: readonly StringName[]): string => {
  const rest = MAP_STRINGS.filter((s) => !used.includes(s));
  return rest.length === 1 ? `; it leaves the ${rest[0]} string alone` : '';
};

const stringsUsed = (dots: readonly FingerDot[]): readonly Saying[] => {
  const used = MAP_STRINGS.filter((s) => dots.some((d) => d.string === s));
  if (used.length === MAP_STRINGS.length || used.length === 0) return [];
  const [only] = used;
  const words =
    used.length === 1
      ? `The whole tune lies on the ${only} string`
      : `The tune lies on the ${joined(used)} strings${idle(used)}`;
  const claim = { kind: 'strings', version: 'full', at: [], strings: used } as const;
  return [saying([{ words, claim }, '.'])];
};

/** More notes missing than this, and the key says little about the tune. Ours. */
const MOST_MISSING = 2;

const without = ({ without: missing }: FingerMap): readonly Saying[] => {
  if (missing.length === 0 || missing.length > MOST_MISSING) return [];
  const claim = { kind: 'without', version: 'full', at: [], notes: missing } as const;
  return [
    saying([
      `Of the key's notes the tune does without `,
      { words: joined(missing.map(printedName)), claim },
      '.',
    ]),
  ];
};

/** The tune's notes string by string, under their fingers. */
export const fingerMapStrings = (map: FingerMap): readonly string[] =>
  stringByString(map.dots.filter((d) => d.inTune));

/** What a teacher says over the finger map: which fingers are high, low, stretched, and which strings are needed. */
export const fingerMapSayings = (map: FingerMap, words: Words): readonly Saying[] => {
  const dots = map.dots.filter((d) => d.inTune);
  return [
    ...secondFingers(dots),
    ...otherFingers(dots),
    ...twoPlaces(dots),
    ...abovePosition(dots),
    ...fourthForOpen(dots, words),
    ...oneNoteOnString(dots, words),
    ...(map.whole ? stringsUsed(dots) : []),
    ...without(map),
  ];
};

/** The same as plain text, for a page. */
export const fingerMapRemarks = (map: FingerMap, words: Words): readonly string[] =>
  fingerMapSayings(map, words).map((s) => s.text);
