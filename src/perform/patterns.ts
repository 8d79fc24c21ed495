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

/** What the backing does at a moment: a bass note, a stroke over the strings, or a chord broken upwards. */
export type BackingStrokeKind = 'bass' | 'down' | 'up' | 'broken';

/** One stroke of a pattern. */
export interface BackingStroke {
  readonly kind: BackingStrokeKind;
  /** From the start of the cycle. */
  readonly at: WholeNotes;
  readonly length: WholeNotes;
  /** Loudness of playing, 0…1: under the melody's. */
  readonly level: number;
}

/** What guitar and bass repeat: a cycle of score time, over and over through the bar. */
export interface BackingPattern {
  readonly cycle: WholeNotes;
  readonly strokes: readonly BackingStroke[];
}

const stroke = (kind: BackingStrokeKind, at: string, length: string, level: number): BackingStroke => ({
  kind,
  at: fraction(at),
  length: fraction(length),
  level,
});
const fraction = (text: string): WholeNotes => {
  const [num = '0', den = '1'] = text.split('/');
  return wholeNotes(Number(num), Number(den));
};
const pattern = (cycle: string, ...strokes: readonly BackingStroke[]): BackingPattern => ({
  cycle: fraction(cycle),
  strokes,
});

/** Bass on the first crotchet, strum on the second: two to a bar of four. Common practice. */
const IN_TWO = pattern('1/2', stroke('bass', '0', '1/4', 0.58), stroke('down', '1/4', '1/5', 0.46));
/** The same in quavers, for two to a bar of two crotchets. Common practice. */
const IN_TWO_SMALL = pattern('1/4', stroke('bass', '0', '1/8', 0.56), stroke('down', '1/8', '1/10', 0.44));
/** Down–up–down on every beat of three quavers. Common practice. */
const JIG_STRUM = pattern(
  '3/8',
  stroke('bass', '0', '1/4', 0.56),
  stroke('down', '0', '1/8', 0.44),
  stroke('up', '1/8', '1/8', 0.32),
  stroke('down', '1/4', '1/8', 0.36),
);
/** On the beat and before the next: lighter, for a beat that goes fast. Common practice. */
const LIGHT_THREE = pattern(
  '3/8',
  stroke('bass', '0', '1/4', 0.56),
  stroke('down', '0', '1/4', 0.42),
  stroke('up', '1/4', '1/8', 0.34),
);
/** Bass–strum–strum. Common practice. */
const WALTZ = pattern(
  '3/4',
  stroke('bass', '0', '1/2', 0.58),
  stroke('down', '1/4', '1/4', 0.44),
  stroke('down', '1/2', '1/5', 0.42),
);
/** A waltz that leans on its second beat. Common practice. */
const MAZURKA = pattern(
  '3/4',
  stroke('bass', '0', '1/4', 0.56),
  stroke('down', '1/4', '1/4', 0.5),
  stroke('down', '1/2', '1/5', 0.4),
);

/** What each dance's backing plays; `inBars` breaks a chord upwards through the bar. Common practice. */
const PATTERNS: Readonly<Record<DanceId, BackingPattern | 'inBars' | 'byMetre'>> = {
  reel: IN_TWO,
  jig: JIG_STRUM,
  slipJig: JIG_STRUM,
  slide: LIGHT_THREE,
  hornpipe: IN_TWO,
  barndance: IN_TWO,
  strathspey: IN_TWO_SMALL,
  polka: IN_TWO_SMALL,
  march: IN_TWO,
  compoundMarch: LIGHT_THREE,
  waltz: WALTZ,
  mazurka: MAZURKA,
  threeTwo: IN_TWO,
  setDance: IN_TWO,
  air: 'inBars',
  tune: 'byMetre',
};

/** Longest stretch that one broken chord fills. Ours. */
const LONGEST_BROKEN: WholeNotes = wholeNotes(3, 4);

const brokenIn = (full: Rational | null): BackingPattern => {
  const whole = full ?? wholeNotes(1, 2);
  const cycle =
    whole.num * LONGEST_BROKEN.den > LONGEST_BROKEN.num * whole.den ? divide(whole, rational(2)) : whole;
  const length = asWholeNotes(cycle);
  return {
    cycle: length,
    strokes: [
      { kind: 'bass', at: wholeNotes(0), length, level: 0.46 },
      { kind: 'broken', at: wholeNotes(0), length, level: 0.42 },
    ],
  };
};

const byMetre = (metre: Metre): BackingPattern => {
  if (metre.kind === 'free') return brokenIn(null);
  if (isCompound(metre)) return scaled(JIG_STRUM, rational(8, metre.unit));
  if (metre.count % 3 === 0 && metre.unit >= 4) return scaled(WALTZ, rational(4, metre.unit));
  if (metre.count === 2 && metre.unit === 4) return IN_TWO_SMALL;
  return metre.count % 2 === 0
    ? scaled(IN_TWO, rational(4, metre.unit))
    : scaled(IN_TWO_SMALL, rational(4, metre.unit));
};

const scaled = ({ cycle, strokes }: BackingPattern, by: Rational): BackingPattern => ({
  cycle: asWholeNotes(multiply(cycle, by)),
  strokes: strokes.map((s) => ({
    ...s,
    at: asWholeNotes(multiply(s.at, by)),
    length: asWholeNotes(multiply(s.length, by)),
  })),
});

/**
 * What do guitar and bass play in a bar of this metre of the dance?
 *
 * A dance written at half its usual values has its pattern at half size; a bar in a metre that is not the dance's own
 * gets the pattern of the metre.
 */
export const patternFor = (dance: Dance, metre: Metre): BackingPattern => {
  const own = PATTERNS[dance.id];
  const full = barLengthOf(metre);
  if (own === 'inBars' || metre.kind === 'free') return brokenIn(full);
  if (own === 'byMetre' || full === null) return byMetre(metre);
  const fitted = scaled(own, divide(dance.beat, DANCES[dance.id].beat));
  const sameKind = isCompound(metre) === (dance.beat.num === 3);
  if (sameKind && divide(full, fitted.cycle).den === 1) {
    const small = dance.id === 'march' && metre.count === 2 && metre.unit === 4;
    return small ? IN_TWO_SMALL : fitted;
  }
  return byMetre(metre);
};
