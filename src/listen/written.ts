import { add, multiply, rational, toNumber, ZERO } from '../core/index.ts';
import { midiOf } from '../music/index.ts';
import { type PlayedBar, placedEvents, playedOrder, type Score } from '../score/index.ts';

/** A note of the written tune, to be found in a recording. */
export interface WrittenNote {
  /** Quavers from the start of its section. */
  readonly at: number;
  /** Quavers. */
  readonly length: number;
  readonly midi: number;
  /** Index in the section's bars. */
  readonly bar: number;
  /** Whether it stands on its bar's first moment. */
  readonly first: boolean;
  /** How often it is struck again inside (a roll), so that more notes of its pitch are no surprise. */
  readonly rolled: boolean;
}

/** A bar of a section. */
export interface WrittenBar {
  /** Quavers from the start of its section. */
  readonly at: number;
  /** Index among the part's written bars. */
  readonly index: number;
  /** Printed number; null for a pick-up or the rest of a bar. */
  readonly number: number | null;
}

/** A part as it is played once: the bars of one pass, endings chosen. */
export interface Section {
  readonly part: string;
  /** Passes of the part that sound like this one; the others have another ending. */
  readonly pass: number;
  readonly bars: readonly WrittenBar[];
  readonly notes: readonly WrittenNote[];
  /** Quavers. */
  readonly length: number;
}

/** The tune as sections, and the order in which they are written to be played. */
export interface WrittenTune {
  readonly sections: readonly Section[];
  /** Indices into the sections, one time through. */
  readonly order: readonly number[];
}

/** Score time in quavers. */
const quavers = (time: { readonly num: number; readonly den: number }): number =>
  toNumber(multiply(time, rational(8)));

/** Runs of bars of one part and one pass. */
const runsOf = (order: readonly PlayedBar[]): readonly (readonly PlayedBar[])[] => {
  const runs: PlayedBar[][] = [];
  for (const bar of order) {
    const last = runs.at(-1)?.at(-1);
    const goesOn = last !== undefined && last.part === bar.part && bar.bar > last.bar;
    if (goesOn) runs.at(-1)?.push(bar);
    else runs.push([bar]);
  }
  return runs;
};

const sectionOf = (score: Score, run: readonly PlayedBar[]): Section => {
  let start = ZERO;
  const bars: WrittenBar[] = [];
  const notes: WrittenNote[] = [];
  let tied = false;
  for (const played of run) {
    const bar = score.parts.find((p) => p.label === played.part)?.bars[played.bar];
    if (bar === undefined) continue;
    bars.push({ at: quavers(start), index: played.bar, number: bar.number });
    for (const { event, onset } of placedEvents(bar)) {
      if (event.kind === 'rest') {
        tied = false;
        continue;
      }
      const midi = midiOf(event.pitches[0]);
      const last = notes.at(-1);
      const length = quavers(event.length);
      if (tied && last?.midi === midi) notes[notes.length - 1] = { ...last, length: last.length + length };
      else
        notes.push({
          at: quavers(add(start, onset)),
          length,
          midi,
          bar: bars.length - 1,
          first: onset.num === 0,
          rolled: event.signs.includes('roll'),
        });
      tied = event.tiedToNext;
    }
    start = bar.events.reduce((sum, e) => add(sum, e.length), start);
  }
  return { part: run[0]?.part ?? 'A', pass: run[0]?.pass ?? 0, bars, notes, length: quavers(start) };
};

const soundsLike = (a: Section, b: Section): boolean =>
  a.part === b.part &&
  a.bars.length === b.bars.length &&
  a.bars.every((bar, i) => bar.index === b.bars[i]?.index);

/** The tune's sections, each kept once, in the order of playing. */
export const writtenTuneOf = (score: Score): WrittenTune => {
  const sections: Section[] = [];
  const order = runsOf(playedOrder(score)).map((run) => {
    const section = sectionOf(score, run);
    const known = sections.findIndex((s) => soundsLike(s, section));
    return known >= 0 ? known : sections.push(section) - 1;
  });
  return { sections: sections.filter((s) => s.notes.length > 0), order };
};
