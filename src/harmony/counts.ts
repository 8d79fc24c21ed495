import { ACCENTS, type HeardNote, PHRASE_PLACES, type PhrasePlace } from './cells.ts';
import { rootOf, TRIADS, type TriadClass } from './vocabulary.ts';

/** A stretch of melody that has one chord: all that the model looks at. */
export interface ChordSpan {
  readonly notes: readonly HeardNote[];
  readonly place: PhrasePlace;
  /** Whether it begins its bar. */
  readonly opensBar: boolean;
}

/** A stretch whose chord is known. */
export interface LabelledSpan extends ChordSpan {
  readonly triad: TriadClass;
}

/** A tune whose chords are known, in written order; its family decides which counts it goes to. */
export interface LabelledTune {
  readonly family: Family;
  readonly spans: readonly LabelledSpan[];
}

/** Chords are counted apart for tunes in major and in minor keys. */
export type Family = 'major' | 'minor';

/** What was counted in tunes of one family. Every row over triads has 24 places, in the order of `TriadClass`. */
export interface FamilyCounts {
  /** How often each triad began a tune. */
  readonly first: readonly number[];
  /** [before][after]: how often one followed the other, the same again included. */
  readonly steps: readonly (readonly number[])[];
  /** [place in the phrase × (0 opens the bar, 1 inside it)][triad]. */
  readonly places: readonly (readonly number[])[];
  /** [accent][triad][semitones above the keynote]: crotchets that the melody sounded under the triad. */
  readonly tones: readonly (readonly (readonly number[])[])[];
}

/** All that the model is made of. */
export interface ChordCounts {
  readonly major: FamilyCounts;
  readonly minor: FamilyCounts;
  /** Of the bars at each place in the phrase: how many kept one chord, how many changed it inside. */
  readonly bars: readonly (readonly [kept: number, changed: number])[];
}

const table = (rows: number, columns: number): number[][] =>
  Array.from({ length: rows }, () => new Array<number>(columns).fill(0));

const bump = (row: number[] | undefined, at: number, by = 1): void => {
  if (row !== undefined) row[at] = (row[at] ?? 0) + by;
};

/** The row of `FamilyCounts.places` that a span belongs to. */
export const placeRow = (span: Pick<ChordSpan, 'place' | 'opensBar'>): number =>
  2 * PHRASE_PLACES.indexOf(span.place) + (span.opensBar ? 0 : 1);

const countFamily = (tunes: readonly LabelledTune[]): FamilyCounts => {
  const first = new Array<number>(TRIADS).fill(0);
  const steps = table(TRIADS, TRIADS);
  const places = table(2 * PHRASE_PLACES.length, TRIADS);
  const tones = Array.from({ length: ACCENTS }, () => table(TRIADS, 12));
  for (const { spans } of tunes) {
    spans.forEach((span, i) => {
      const before = spans[i - 1];
      if (before === undefined) bump(first, span.triad);
      else bump(steps[before.triad], span.triad);
      bump(places[placeRow(span)], span.triad);
      for (const note of span.notes) bump(tones[note.accent]?.[span.triad], note.degree, note.crotchets);
    });
  }
  return { first, steps, places, tones };
};

const countBars = (tunes: readonly LabelledTune[]): ChordCounts['bars'] =>
  PHRASE_PLACES.map((place) => {
    const spans = tunes.flatMap((t) => t.spans.map((span, i) => ({ span, next: t.spans[i + 1] })));
    const openers = spans.filter(({ span }) => span.place === place && span.opensBar);
    const changed = openers.filter(({ span, next }) => next?.opensBar === false && next.triad !== span.triad);
    return [openers.length - changed.length, changed.length];
  });

/**
 * Counts what the chord model needs from tunes whose chords are known.
 * @returns plain counts; crotchets are not rounded
 */
export const countChords = (tunes: readonly LabelledTune[]): ChordCounts => ({
  major: countFamily(tunes.filter((t) => t.family === 'major')),
  minor: countFamily(tunes.filter((t) => t.family === 'minor')),
  bars: countBars(tunes),
});

/** [quality: 0 major, 1 minor][accent][semitones above the root]: the tones of both families, wherever the root lies. */
export const tonesAboveRoot = (counts: ChordCounts): readonly (readonly (readonly number[])[])[] => {
  const result = [table(ACCENTS, 12), table(ACCENTS, 12)];
  for (const family of [counts.major, counts.minor]) {
    family.tones.forEach((triads, accent) => {
      triads.forEach((degrees, triad) => {
        degrees.forEach((crotchets, degree) => {
          bump(result[triad % 2]?.[accent], (degree - rootOf(triad) + 12) % 12, crotchets);
        });
      });
    });
  }
  return result;
};
