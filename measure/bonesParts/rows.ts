import type { MeasureRow } from '../table.ts';
import { type Share, shareOf, type Tally } from './tally.ts';

const mean = (values: readonly number[]): number =>
  values.length === 0 ? 0 : values.reduce((a, b) => a + b, 0) / values.length;

/** Bounds of a tune's mean fill, in which it is neither dull nor busy. */
const FILL_BOUNDS = [0.42, 0.7] as const;

interface Line {
  readonly what: string;
  readonly of: (tally: Tally) => number;
  readonly target: string;
  readonly holds: ((value: number, yardstick: number) => boolean) | null;
}

const share = (name: keyof Tally['shares']) => (tally: Tally) => shareOf(tally.shares[name] as Share);
const per100 = (name: keyof Tally['counts']) => (tally: Tally) =>
  tally.bars === 0 ? 0 : (100 * tally.counts[name]) / tally.bars;
const atLeast = (bound: number) => (value: number) => value >= bound;
const atMost = (bound: number) => (value: number) => value <= bound;
/** Round-off of sums of shares. */
const ALL = 1 - 1e-9;

const fillMean = (tally: Tally): number => mean(tally.fills);
const fillInside = (tally: Tally): number =>
  mean(tally.fills.map((f) => (f >= FILL_BOUNDS[0] - 1e-9 && f <= FILL_BOUNDS[1] + 1e-9 ? 1 : 0)));

const LINES: readonly Line[] = [
  { what: 'onsets on a plain onset, same pitch', of: share('onsets'), target: '1.00', holds: atLeast(ALL) },
  { what: 'bar lengths equal', of: share('lengths'), target: '1.00', holds: atLeast(ALL) },
  { what: 'beats kept', of: share('beats'), target: '≥ .99', holds: atLeast(0.99) },
  { what: 'off-beats kept (simple time)', of: share('offBeats'), target: '≥ .88', holds: atLeast(0.88) },
  {
    what: 'thematic code of bars 1–2 sounds the same',
    of: share('code'),
    target: '≥ .97',
    holds: atLeast(0.97),
  },
  { what: 'long notes kept', of: share('long'), target: '≥ .99', holds: atLeast(0.99) },
  { what: 'finals kept', of: share('finals'), target: '≥ .98', holds: atLeast(0.98) },
  { what: 'parts that keep their highest note', of: share('highest'), target: '≥ .95', holds: atLeast(0.95) },
  { what: 'already simple bars left alone', of: share('simple'), target: '≥ .98', holds: atLeast(0.98) },
  {
    what: 'running-note places filled, mean',
    of: fillMean,
    target: '.56–.70',
    holds: (v) => v >= 0.56 && v <= 0.7,
  },
  { what: 'tunes with 42–70 % filled', of: fillInside, target: '≥ .95', holds: atLeast(0.95) },
  {
    what: 'bars with a crotchet (quaver in 2/4)',
    of: share('crotchet'),
    target: '≥ .98',
    holds: atLeast(0.98),
  },
  {
    what: 'one-note bars where plain has more',
    of: share('oneNote'),
    target: '≤ .005',
    holds: atMost(0.005),
  },
  {
    what: 'running bars that keep a running note',
    of: share('running'),
    target: '≥ .80',
    holds: atLeast(0.8),
  },
  { what: 'rhythms not of the trade', of: share('strange'), target: '≤ .01', holds: atMost(0.01) },
  { what: 'new syncopations per 100 bars', of: per100('syncopations'), target: '≤ .3', holds: atMost(0.3) },
  { what: 'time in unison with plain', of: share('unison'), target: '≥ .66', holds: atLeast(0.66) },
  { what: 'clashes on a pulse per 100 bars', of: per100('clashes'), target: '0', holds: atMost(0) },
  { what: 'held harsh share', of: share('harsh'), target: '≤ .17', holds: atMost(0.17) },
  { what: 'new leaps over a fifth per 100 bars', of: per100('leapsFifth'), target: '≤ 4', holds: atMost(4) },
  {
    what: 'new leaps over an octave per 100 bars',
    of: per100('leapsOctave'),
    target: '≤ .05',
    holds: atMost(0.05),
  },
  {
    what: 'easier, where there was something to take away',
    of: share('easier'),
    target: '1.00',
    holds: atLeast(ALL),
  },
  { what: 'equal bars stay equal', of: share('equalBars'), target: '≥ .99', holds: atLeast(0.99) },
  { what: 'equal cells stay equal', of: share('equalCells'), target: '≥ .95', holds: atLeast(0.95) },
  {
    what: 'running reel bars with an even number of strokes',
    of: share('evenReel'),
    target: 'reported',
    holds: null,
  },
  {
    what: 'the same, bars of the version that keep a running note',
    of: share('evenReelMoving'),
    target: 'above thinning',
    holds: (value, thinned) => value > thinned,
  },
  { what: 'the same, all bars of two or four beats', of: share('evenAll'), target: 'reported', holds: null },
];

const rounded = (value: number): number => Math.round(value * 1000) / 1000;

/** Every row of the tally beside the yardstick's. */
export const rowsOf = (ours: Tally, yardstick: Tally): readonly MeasureRow[] =>
  LINES.map(({ what, of, target, holds }) => {
    const [value, thinned] = [of(ours), of(yardstick)];
    return {
      what,
      ours: rounded(value),
      target,
      yardstick: rounded(thinned),
      holds: holds === null ? null : holds(value, thinned),
    };
  });
