import { toNumber } from '../../src/core/index.ts';
import {
  type ChordModel,
  chordPlanOf,
  countChords,
  foundTriads,
  type LabelledTune,
  labelledTuneOf,
  modelFrom,
  triadOf,
  triadsOfSpans,
} from '../../src/harmony/index.ts';
import type { Score } from '../../src/score/index.ts';

/** How many parts the tunes are dealt into; each is judged by a model that was counted from the others. */
export const FOLDS = 5;

/** A tune with its own chords, and the same tune without any. */
export interface Judged {
  readonly score: Score;
  readonly labelled: LabelledTune;
}

/** Of so many, so many agree. */
export interface Agreement {
  readonly agree: number;
  readonly of: number;
}

const sumOf = (list: readonly Agreement[]): Agreement => ({
  agree: list.reduce((n, a) => n + a.agree, 0),
  of: list.reduce((n, a) => n + a.of, 0),
});

/** Tunes that have chords of their own. */
export const judgedTunes = (scores: readonly Score[]): readonly Judged[] =>
  scores
    .map((score) => ({ score, labelled: labelledTuneOf(score) }))
    .filter((t) => t.labelled.spans.length > 0);

/** Judges every tune by a model that has not seen it: tune number i is in fold i modulo `FOLDS`. */
export const inFolds = (
  tunes: readonly Judged[],
  judge: (tune: Judged, model: ChordModel) => Agreement,
): Agreement =>
  sumOf(
    Array.from({ length: FOLDS }, (_, fold) => {
      const model = modelFrom(
        countChords(tunes.filter((__, i) => i % FOLDS !== fold).map((t) => t.labelled)),
      );
      return sumOf(tunes.filter((__, i) => i % FOLDS === fold).map((tune) => judge(tune, model)));
    }),
  );

/** Boundaries given, 24 classes. */
export const withBoundaries = ({ labelled }: Judged, model: ChordModel): Agreement => {
  const found = triadsOfSpans(labelled.spans, labelled.family, model);
  return { agree: labelled.spans.filter((s, i) => s.triad === found[i]).length, of: labelled.spans.length };
};

/** The tonic wherever a chord is: the first yardstick. */
export const alwaysTonic = ({ labelled }: Judged): Agreement => {
  const tonic = labelled.family === 'minor' ? 1 : 0;
  return { agree: labelled.spans.filter((s) => s.triad === tonic).length, of: labelled.spans.length };
};

/** Half bars (bars, where these do not halve) in which our chord is the printed one at that moment, boundaries not given. */
export const byHalfBars = ({ score }: Judged, model: ChordModel): Agreement => {
  const printed = chordPlanOf(score).filter((c) => c.source === 'written');
  const byBar = new Map<string, (typeof printed)[number][]>();
  for (const chord of printed) {
    const key = `${chord.bar}/${chord.part}`;
    byBar.set(key, [...(byBar.get(key) ?? []), chord]);
  }
  let agree = 0;
  let of = 0;
  for (const { cell, triad } of foundTriads(score, model)) {
    const at = toNumber(cell.onset);
    const there = byBar.get(`${cell.bar}/${cell.part}`)?.find((c) => {
      const start = toNumber(c.onset);
      return start <= at && at < start + toNumber(c.length);
    });
    if (there === undefined) continue;
    of += 1;
    if (triadOf(there.chord, cell.tonality) === triad) agree += 1;
  }
  return { agree, of };
};

/** Bars, and those of them that get two chords from us. */
export const changesInside = ({ score }: Judged, model: ChordModel): Agreement => {
  const triads = new Map<string, Set<number>>();
  for (const { cell, triad } of foundTriads(score, model)) {
    const key = `${cell.bar}/${cell.part}`;
    triads.set(key, (triads.get(key) ?? new Set()).add(triad));
  }
  return { agree: [...triads.values()].filter((t) => t.size > 1).length, of: triads.size };
};
