import {
  asWholeNotes,
  divide,
  multiply,
  type Rational,
  rational,
  type WholeNotes,
  wholeNotes,
} from '../core/index.ts';
import { barLengthOf, DANCES, type Dance, type DanceId, isCompound, type Metre } from '../music/index.ts';

/**
 * What the backing does at a moment: a bass note, a bass note that leads to the next chord, a stroke over the strings
 * (for a piano: the right hand's chord), a chord broken upwards; the drum's low and high stroke and its tap.
 */
export type BackingStrokeKind = 'bass' | 'lead' | 'down' | 'up' | 'broken' | 'low' | 'high' | 'tap';

/** One stroke of a pattern. */
export interface BackingStroke {
  readonly kind: BackingStrokeKind;
  /** From the start of the cycle. */
  readonly at: WholeNotes;
  readonly length: WholeNotes;
  /** Loudness of playing, 0…1: under the melody's. */
  readonly level: number;
}

/** What the backing repeats: a cycle of score time, over and over through the bar. */
export interface BackingPattern {
  readonly cycle: WholeNotes;
  readonly strokes: readonly BackingStroke[];
  /** The cycle that ends a part: it leads into what follows. */
  readonly fill: readonly BackingStroke[];
}

/** Each dance has a usual pattern and another. */
export type PatternChoice = 'usual' | 'other';

const fraction = (text: string): WholeNotes => {
  const [num = '0', den = '1'] = text.split('/');
  return wholeNotes(Number(num), Number(den));
};
type Row = readonly [BackingStrokeKind, at: string, length: string, level: number];
const strokes = (rows: readonly Row[]): readonly BackingStroke[] =>
  rows.map(([kind, at, length, level]) => ({ kind, at: fraction(at), length: fraction(length), level }));
const pattern = (cycle: string, rows: readonly Row[], fill: readonly Row[]): BackingPattern => ({
  cycle: fraction(cycle),
  strokes: strokes(rows),
  fill: strokes(fill),
});

// biome-ignore-start format: tables, a row a stroke
const FILL_IN_TWO: readonly Row[] = [
  ['bass', '0', '1/4', 0.58],
  ['down', '1/8', '1/8', 0.4],
  ['lead', '1/4', '1/4', 0.56],
  ['up', '3/8', '1/8', 0.4],
  ['low', '0', '1/8', 0.5],
  ['tap', '1/8', '1/8', 0.34],
  ['high', '1/4', '1/8', 0.42],
  ['high', '3/8', '1/8', 0.48],
];
const FILL_IN_TWO_SMALL: readonly Row[] = [
  ['bass', '0', '1/8', 0.56],
  ['down', '1/16', '1/16', 0.38],
  ['lead', '1/8', '1/8', 0.54],
  ['up', '3/16', '1/16', 0.38],
  ['low', '0', '1/8', 0.5],
  ['high', '1/8', '1/16', 0.42],
  ['high', '3/16', '1/16', 0.46],
];
const FILL_IN_THREE: readonly Row[] = [
  ['bass', '0', '1/4', 0.56],
  ['down', '0', '1/8', 0.44],
  ['up', '1/8', '1/8', 0.36],
  ['lead', '1/4', '1/8', 0.54],
  ['low', '0', '1/8', 0.5],
  ['high', '1/8', '1/8', 0.4],
  ['high', '1/4', '1/8', 0.46],
];
const FILL_WALTZ: readonly Row[] = [
  ['bass', '0', '1/4', 0.58],
  ['down', '1/4', '1/4', 0.42],
  ['lead', '1/2', '1/4', 0.54],
  ['up', '5/8', '1/8', 0.36],
  ['low', '0', '1/4', 0.48],
  ['tap', '1/4', '1/8', 0.32],
  ['high', '1/2', '1/8', 0.38],
  ['high', '5/8', '1/8', 0.44],
];

/** Bass on the first crotchet, strum on the second: two to a bar of four. Common practice. */
const IN_TWO = pattern(
  '1/2',
  [
    ['bass', '0', '1/4', 0.58],
    ['down', '1/4', '1/5', 0.46],
    ['low', '0', '1/4', 0.5],
    ['high', '1/4', '1/8', 0.36],
    ['tap', '3/8', '1/8', 0.28],
  ],
  FILL_IN_TWO,
);
/** The same in quavers, for two to a bar of two crotchets. Common practice. */
const IN_TWO_SMALL = pattern(
  '1/4',
  [
    ['bass', '0', '1/8', 0.56],
    ['down', '1/8', '1/10', 0.44],
    ['low', '0', '1/8', 0.48],
    ['high', '1/8', '1/8', 0.34],
  ],
  FILL_IN_TWO_SMALL,
);
/** A hand that never stops: down and up in running notes, the off-beat leaned on. Common practice. */
const STRUM_IN_TWO = pattern(
  '1/2',
  [
    ['bass', '0', '1/4', 0.56],
    ['down', '0', '1/8', 0.36],
    ['up', '1/8', '1/8', 0.3],
    ['down', '1/4', '1/8', 0.44],
    ['up', '3/8', '1/8', 0.3],
    ['low', '0', '1/8', 0.48],
    ['tap', '1/8', '1/8', 0.28],
    ['high', '1/4', '1/8', 0.38],
    ['tap', '3/8', '1/8', 0.3],
  ],
  FILL_IN_TWO,
);
/** Down on the beat, up off it. Common practice. */
const STRUM_SMALL = pattern(
  '1/4',
  [
    ['bass', '0', '1/8', 0.54],
    ['down', '0', '1/8', 0.36],
    ['up', '1/8', '1/8', 0.42],
    ['low', '0', '1/8', 0.46],
    ['tap', '1/16', '1/16', 0.26],
    ['high', '1/8', '1/16', 0.36],
    ['tap', '3/16', '1/16', 0.26],
  ],
  FILL_IN_TWO_SMALL,
);
/** Down on the beat, up on the short note of its dotted pair. Common practice. */
const STRUM_DOTTED = pattern(
  '1/4',
  [
    ['bass', '0', '3/16', 0.56],
    ['down', '0', '3/16', 0.4],
    ['up', '3/16', '1/16', 0.34],
    ['low', '0', '1/8', 0.48],
    ['high', '3/16', '1/16', 0.34],
  ],
  FILL_IN_TWO_SMALL,
);
/** A chord on every step. Common practice. */
const STEPPED = pattern(
  '1/2',
  [
    ['bass', '0', '1/4', 0.58],
    ['down', '0', '1/5', 0.4],
    ['down', '1/4', '1/5', 0.46],
    ['low', '0', '1/4', 0.5],
    ['low', '1/4', '1/8', 0.36],
    ['tap', '3/8', '1/16', 0.3],
    ['tap', '7/16', '1/16', 0.3],
  ],
  FILL_IN_TWO,
);
/** Down–up–down on every beat of three quavers. Common practice. */
const JIG_STRUM = pattern(
  '3/8',
  [
    ['bass', '0', '1/4', 0.56],
    ['down', '0', '1/8', 0.44],
    ['up', '1/8', '1/8', 0.32],
    ['down', '1/4', '1/8', 0.36],
    ['low', '0', '1/8', 0.5],
    ['tap', '1/8', '1/8', 0.28],
    ['high', '1/4', '1/8', 0.38],
  ],
  FILL_IN_THREE,
);
/** On the beat and before the next: lighter, for a beat that goes fast. Common practice. */
const LIGHT_THREE = pattern(
  '3/8',
  [
    ['bass', '0', '1/4', 0.56],
    ['down', '0', '1/4', 0.42],
    ['up', '1/4', '1/8', 0.34],
    ['low', '0', '1/4', 0.48],
    ['high', '1/4', '1/8', 0.36],
  ],
  FILL_IN_THREE,
);
/** Bass–strum–strum. Common practice. */
const WALTZ = pattern(
  '3/4',
  [
    ['bass', '0', '1/2', 0.58],
    ['down', '1/4', '1/4', 0.44],
    ['down', '1/2', '1/5', 0.42],
    ['low', '0', '1/4', 0.46],
    ['tap', '1/4', '1/8', 0.3],
    ['tap', '1/2', '1/8', 0.3],
  ],
  FILL_WALTZ,
);
/** The same with an up-stroke between. Common practice. */
const WALTZ_STRUM = pattern(
  '3/4',
  [
    ['bass', '0', '1/4', 0.56],
    ['down', '1/4', '1/8', 0.42],
    ['up', '3/8', '1/8', 0.3],
    ['down', '1/2', '1/8', 0.4],
    ['up', '5/8', '1/8', 0.3],
    ['low', '0', '1/4', 0.46],
    ['high', '1/4', '1/8', 0.32],
    ['tap', '1/2', '1/8', 0.28],
    ['tap', '5/8', '1/8', 0.28],
  ],
  FILL_WALTZ,
);
/** A waltz that leans on its second beat. Common practice. */
const MAZURKA = pattern(
  '3/4',
  [
    ['bass', '0', '1/4', 0.56],
    ['down', '1/4', '1/4', 0.5],
    ['down', '1/2', '1/5', 0.4],
    ['low', '0', '1/4', 0.44],
    ['high', '1/4', '1/8', 0.4],
    ['tap', '1/2', '1/8', 0.28],
  ],
  FILL_WALTZ,
);
// biome-ignore-end format: tables

/** `inBars` breaks a chord upwards through the bar, `held` lets it ring. */
type Choice = BackingPattern | 'inBars' | 'held' | 'byMetre';

/** What each dance's backing plays: usually, and otherwise. Common practice. */
const PATTERNS: Readonly<Record<DanceId, readonly [usual: Choice, other: Choice]>> = {
  reel: [IN_TWO, STRUM_IN_TWO],
  jig: [JIG_STRUM, LIGHT_THREE],
  slipJig: [JIG_STRUM, LIGHT_THREE],
  slide: [LIGHT_THREE, JIG_STRUM],
  hornpipe: [IN_TWO, STRUM_IN_TWO],
  barndance: [IN_TWO, STRUM_IN_TWO],
  strathspey: [IN_TWO_SMALL, STRUM_DOTTED],
  polka: [IN_TWO_SMALL, STRUM_SMALL],
  march: [IN_TWO, STEPPED],
  compoundMarch: [LIGHT_THREE, JIG_STRUM],
  waltz: [WALTZ, WALTZ_STRUM],
  mazurka: [MAZURKA, WALTZ_STRUM],
  threeTwo: [IN_TWO, STRUM_IN_TWO],
  setDance: [IN_TWO, STRUM_IN_TWO],
  air: ['inBars', 'held'],
  tune: ['byMetre', 'byMetre'],
};

/** Longest stretch that one broken chord fills. Ours. */
const LONGEST_BROKEN: WholeNotes = wholeNotes(3, 4);

const ringingIn = (full: Rational | null, kind: 'broken' | 'down'): BackingPattern => {
  const whole = full ?? wholeNotes(1, 2);
  const cycle =
    whole.num * LONGEST_BROKEN.den > LONGEST_BROKEN.num * whole.den ? divide(whole, rational(2)) : whole;
  const length = asWholeNotes(cycle);
  const both: readonly BackingStroke[] = [
    { kind: 'bass', at: wholeNotes(0), length, level: 0.46 },
    { kind, at: wholeNotes(0), length, level: 0.42 },
  ];
  return { cycle: length, strokes: both, fill: both };
};

const byMetre = (metre: Metre, other: boolean): BackingPattern => {
  if (metre.kind === 'free') return ringingIn(null, 'broken');
  if (isCompound(metre)) return scaled(other ? LIGHT_THREE : JIG_STRUM, rational(8, metre.unit));
  if (metre.count % 3 === 0 && metre.unit >= 4)
    return scaled(other ? WALTZ_STRUM : WALTZ, rational(4, metre.unit));
  const small = other ? STRUM_SMALL : IN_TWO_SMALL;
  if (metre.count === 2 && metre.unit === 4) return small;
  return scaled(metre.count % 2 === 0 ? (other ? STRUM_IN_TWO : IN_TWO) : small, rational(4, metre.unit));
};

const scaled = ({ cycle, strokes: own, fill }: BackingPattern, by: Rational): BackingPattern => {
  const all = (list: readonly BackingStroke[]): readonly BackingStroke[] =>
    list.map((s) => ({
      ...s,
      at: asWholeNotes(multiply(s.at, by)),
      length: asWholeNotes(multiply(s.length, by)),
    }));
  return { cycle: asWholeNotes(multiply(cycle, by)), strokes: all(own), fill: all(fill) };
};

/**
 * What does the backing play in a bar of this metre of the dance?
 *
 * A dance written at half its usual values has its pattern at half size; a bar in a metre that is not the dance's own
 * gets the pattern of the metre.
 */
export const patternFor = (dance: Dance, metre: Metre, choice: PatternChoice = 'usual'): BackingPattern => {
  const other = choice === 'other';
  const own = PATTERNS[dance.id][other ? 1 : 0];
  const full = barLengthOf(metre);
  if (own === 'held') return ringingIn(full, 'down');
  if (own === 'inBars' || metre.kind === 'free') return ringingIn(full, 'broken');
  if (own === 'byMetre' || full === null) return byMetre(metre, other);
  const fitted = scaled(own, divide(dance.beat, DANCES[dance.id].beat));
  const sameKind = isCompound(metre) === (dance.beat.num === 3);
  if (sameKind && divide(full, fitted.cycle).den === 1) {
    const small = dance.id === 'march' && metre.count === 2 && metre.unit === 4;
    return small ? (other ? STRUM_SMALL : IN_TWO_SMALL) : fitted;
  }
  return byMetre(metre, other);
};
