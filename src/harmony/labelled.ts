import { add, asWholeNotes, compare, type WholeNotes, wholeNotes } from '../core/index.ts';
import { type Chord, type ChordQuality, chromaOf } from '../music/index.ts';
import {
  barsOf,
  type ChordSymbol,
  metricalOffsetOf,
  type PlacedBar,
  type Score,
  writtenLengthOf,
} from '../score/index.ts';
import { barPlacesOf, heardBetween } from './cells.ts';
import type { LabelledSpan, LabelledTune } from './counts.ts';
import { type Tonality, tonalityOf } from './tonality.ts';
import { type TriadClass, triadClass } from './vocabulary.ts';

/** Qualities with a minor third; every other counts as major. */
const WITH_MINOR_THIRD: readonly ChordQuality[] = [
  'minor',
  'minorSeventh',
  'minorSixth',
  'diminished',
  'diminishedSeventh',
];

/** Which of the 24 major and minor classes does a chord count as, above this keynote? */
export const triadOf = (chord: Chord, tonality: Tonality): TriadClass =>
  triadClass(chromaOf(chord.root) - chromaOf(tonality.tonic), WITH_MINOR_THIRD.includes(chord.quality));

/** A span whose last bar may go on into the next. */
type OpenSpan = { -readonly [K in keyof LabelledSpan]: LabelledSpan[K] };

const insideBar = (bar: PlacedBar['bar'], length: WholeNotes): readonly ChordSymbol[] =>
  bar.chords.filter((c) => compare(c.onset, length) < 0);

/**
 * The tune cut at its own chord symbols: one span a symbol, from it to the next or the end of its part.
 *
 * What a chord model is counted from and judged on, boundaries given.
 */
export const labelledTuneOf = (score: Score): LabelledTune => {
  const places = barPlacesOf(score);
  const spans: OpenSpan[] = [];
  let openIn: string | null = null;
  barsOf(score).forEach((placed, i) => {
    const { bar } = placed;
    const length = writtenLengthOf(bar);
    const tonality = tonalityOf(bar.key, score);
    const symbols = insideBar(bar, length);
    const open = spans.at(-1);
    if (open !== undefined && openIn === placed.part)
      open.notes = [
        ...open.notes,
        ...heardBetween(placed, tonality, wholeNotes(0), symbols[0]?.onset ?? length),
      ];
    symbols.forEach(({ onset, chord }, k) => {
      spans.push({
        notes: heardBetween(placed, tonality, onset, symbols[k + 1]?.onset ?? length),
        triad: triadOf(chord, tonality),
        place: places[i] ?? 'first',
        opensBar: asWholeNotes(add(onset, metricalOffsetOf(bar))).num === 0,
      });
      openIn = placed.part;
    });
  });
  return { family: tonalityOf(score.key, score).mode === 'minor' ? 'minor' : 'major', spans };
};
