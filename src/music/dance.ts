import { isMultipleOf, type WholeNotes, wholeNotes } from '../core/index.ts';
import type { Metre } from './metre.ts';

/** The dances that the program knows how to set; `air` is free in time, `tune` is anything else. */
export type DanceId =
  | 'reel'
  | 'jig'
  | 'slipJig'
  | 'slide'
  | 'hornpipe'
  | 'barndance'
  | 'strathspey'
  | 'polka'
  | 'march'
  | 'compoundMarch'
  | 'waltz'
  | 'mazurka'
  | 'threeTwo'
  | 'setDance'
  | 'air'
  | 'tune';

/** Tempo steps of a lesson, slowest first. */
export const TEMPO_STEPS = ['learn', 'steady', 'upToSpeed'] as const;
/** A tempo step. */
export type TempoStep = (typeof TEMPO_STEPS)[number];

/** What a dance asks for. */
export interface Dance {
  readonly id: DanceId;
  /** For people ("slip jig"). */
  readonly name: string;
  /** The beat that is counted and that tempi are given in. */
  readonly beat: WholeNotes;
  /** The note that runs through a busy bar. */
  readonly runningNote: WholeNotes;
  /** Default beats a minute. `learnBones` is for the bones alone, `learn` for the other versions. */
  readonly tempo: Readonly<Record<TempoStep | 'learnBones', number>>;
  /** Long : short of an even-written pair of running notes at `steady`; 1 is straight. */
  readonly swing: number;
  /** Whether written dotted pairs are the same playing as even ones (hornpipes), or are played as written. */
  readonly dottedPairsSwing: boolean;
  /** Count-in at `learn`: bars, and clicks in each. */
  readonly slowCountIn: { readonly bars: number; readonly clicks: number };
  /** Count-in at the other steps. */
  readonly countIn: { readonly bars: number; readonly clicks: number };
}

const dance = (
  id: DanceId,
  name: string,
  beat: WholeNotes,
  runningNote: WholeNotes,
  tempi: readonly [number, number, number, number],
  swing: number,
  countIn: readonly [number, number, number, number],
  dottedPairsSwing = false,
): Dance => ({
  id,
  name,
  beat,
  runningNote,
  tempo: { learnBones: tempi[0], learn: tempi[1], steady: tempi[2], upToSpeed: tempi[3] },
  swing,
  dottedPairsSwing,
  slowCountIn: { bars: countIn[0], clicks: countIn[1] },
  countIn: { bars: countIn[2], clicks: countIn[3] },
});

const MINIM = wholeNotes(1, 2);
const CROTCHET = wholeNotes(1, 4);
const DOTTED_CROTCHET = wholeNotes(3, 8);
const QUAVER = wholeNotes(1, 8);

/**
 * Beats, default tempi (bones to learn, all the notes to learn, steady, up to speed), swing and count-in of each dance.
 * @see Common practice throughout; hornpipe swing 1.35–1.55 and polka 1.05–1.08 Source: Beauguitte, Duggan, Kelleher,
 * ISMIR 2016 corpus (counted). Where a dance has no common practice of its own (set dance, air, tune): From memory.
 */
export const DANCES: Readonly<Record<DanceId, Dance>> = {
  reel: dance('reel', 'reel', MINIM, QUAVER, [42, 48, 70, 106], 1.15, [1, 4, 2, 2]),
  jig: dance('jig', 'jig', DOTTED_CROTCHET, QUAVER, [56, 60, 80, 116], 1, [2, 2, 2, 2]),
  slipJig: dance('slipJig', 'slip jig', DOTTED_CROTCHET, QUAVER, [56, 60, 80, 116], 1, [2, 3, 2, 3]),
  slide: dance('slide', 'slide', DOTTED_CROTCHET, QUAVER, [64, 70, 95, 132], 1, [1, 4, 2, 4]),
  hornpipe: dance('hornpipe', 'hornpipe', CROTCHET, QUAVER, [74, 80, 110, 150], 1.45, [1, 4, 1, 4], true),
  barndance: dance('barndance', 'barndance', CROTCHET, QUAVER, [74, 80, 110, 150], 1.4, [1, 4, 1, 4], true),
  strathspey: dance('strathspey', 'strathspey', CROTCHET, QUAVER, [64, 70, 95, 120], 1, [1, 4, 1, 4]),
  polka: dance('polka', 'polka', CROTCHET, QUAVER, [64, 70, 95, 132], 1.06, [2, 2, 2, 2]),
  march: dance('march', 'march', CROTCHET, QUAVER, [64, 70, 90, 108], 1, [1, 4, 1, 4]),
  compoundMarch: dance('compoundMarch', 'march', DOTTED_CROTCHET, QUAVER, [56, 60, 80, 104], 1, [2, 2, 2, 2]),
  waltz: dance('waltz', 'waltz', CROTCHET, QUAVER, [64, 70, 95, 126], 1, [2, 3, 2, 3]),
  mazurka: dance('mazurka', 'mazurka', CROTCHET, QUAVER, [70, 80, 110, 140], 1.2, [2, 3, 2, 3]),
  threeTwo: dance('threeTwo', '3/2 hornpipe', MINIM, QUAVER, [44, 50, 70, 92], 1.05, [1, 3, 2, 3]),
  setDance: dance('setDance', 'set dance', CROTCHET, QUAVER, [66, 72, 96, 126], 1.3, [1, 4, 1, 4], true),
  air: dance('air', 'air', CROTCHET, QUAVER, [50, 54, 60, 66], 1, [1, 4, 1, 4]),
  tune: dance('tune', 'tune', CROTCHET, QUAVER, [64, 70, 90, 112], 1, [1, 4, 1, 4]),
};

/** Words in an `R:` field and the dance they mean, longest first. Common practice. */
const RHYTHM_WORDS: readonly (readonly [RegExp, DanceId])[] = [
  [/slip[\s-]*jig|hop[\s-]*jig/, 'slipJig'],
  [/slide|single jig/, 'slide'],
  [/(3\/2|triple).*hornpipe|hornpipe.*(3\/2|triple)/, 'threeTwo'],
  [/hornpipe|clog/, 'hornpipe'],
  [/barn|schottis|highland|fling|german/, 'barndance'],
  [/strathspey/, 'strathspey'],
  [/reel/, 'reel'],
  [/polka/, 'polka'],
  [/jig/, 'jig'],
  [/march/, 'march'],
  [/waltz/, 'waltz'],
  [/mazurk|varsov/, 'mazurka'],
  [/set dance|long dance/, 'setDance'],
  [/air|lament|song|planxty/, 'air'],
];

const measured = (metre: Metre, count: number, unit: number): boolean =>
  metre.kind === 'measured' && metre.count === count && metre.unit === unit;

/** Dances whose home is a bar of eight quavers. */
const FOUR_FOUR: readonly DanceId[] = ['reel', 'hornpipe', 'barndance', 'strathspey', 'setDance'];

const fromMetre = (metre: Metre, runningNote: WholeNotes): DanceId => {
  if (metre.kind === 'free') return 'air';
  if (measured(metre, 6, 8)) return 'jig';
  if (measured(metre, 9, 8)) return 'slipJig';
  if (measured(metre, 12, 8)) return 'slide';
  if (measured(metre, 4, 4) || measured(metre, 2, 2)) return 'reel';
  if (measured(metre, 2, 4)) return runningNote.den > 8 ? 'tune' : 'polka';
  if (measured(metre, 3, 4)) return 'waltz';
  if (measured(metre, 3, 2)) return 'threeTwo';
  return 'tune';
};

/**
 * Which dance is it, and did the tune say so itself?
 * @param rhythm - the text of the tune's `R:` field, where it has one
 * @param metre - the tune's metre
 * @param runningNote - the length of its running notes (see the score room)
 * @returns the dance with its running note set to the tune's, and whether it had to be judged by metre
 */
export const danceOf = (
  rhythm: string | undefined,
  metre: Metre,
  runningNote: WholeNotes = QUAVER,
): { readonly dance: Dance; readonly judged: boolean } => {
  const word = rhythm?.toLowerCase() ?? '';
  const said = RHYTHM_WORDS.find(([pattern]) => pattern.test(word))?.[1];
  let id = said ?? fromMetre(metre, runningNote);
  if (id === 'march' && metre.kind === 'measured' && metre.unit === 8) id = 'compoundMarch';
  if (id === 'hornpipe' && measured(metre, 3, 2)) id = 'threeTwo';
  return { dance: fitted(DANCES[id], metre, runningNote), judged: said === undefined };
};

/** Whether a dance of full 4/4 bars is written in 2/4 with notes half as long. */
const isHalved = (dance: Dance, metre: Metre, runningNote: WholeNotes): boolean =>
  measured(metre, 2, 4) && runningNote.den > dance.runningNote.den && FOUR_FOUR.includes(dance.id);

/** A dance's beat must divide the metre it is written in, and keep its number of running notes. */
const fitted = (dance: Dance, metre: Metre, runningNote: WholeNotes): Dance => {
  const own = { ...dance, runningNote };
  if (metre.kind === 'free') return own;
  if (isHalved(dance, metre, runningNote))
    return { ...own, beat: wholeNotes(dance.beat.num, dance.beat.den * 2) };
  if (isMultipleOf(wholeNotes(metre.count, metre.unit), own.beat)) return own;
  return { ...DANCES.tune, id: own.id, name: own.name, runningNote, beat: wholeNotes(1, metre.unit) };
};
