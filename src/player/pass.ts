import { loosened } from '../audio/index.ts';
import { seconds } from '../core/index.ts';
import type { ChordPlan } from '../harmony/index.ts';
import type { Dance } from '../music/index.ts';
import { type Band, type TimedNote, type Timeline, timelineOf } from '../perform/index.ts';
import { playedOrder, type Score } from '../score/index.ts';

/** A note and who plays it: 0 the fiddle in front and all backing, 1 and more further fiddles. */
export type SeatedNote = TimedNote & { readonly seat: number };

/** One bar to be played, in seconds of the pass that it was taken from. */
export interface PassBar {
  /** Place in the played order of the tune; −1 for the count-in. All versions share it. */
  readonly index: number;
  readonly start: number;
  readonly end: number;
  readonly notes: readonly SeatedNote[];
  /** The learner's turn: the fiddle is silent. */
  readonly yours?: true;
}

/** The tune once through, and how it goes on or ends. */
export interface Pass {
  /** The clicks before the first bar, also when that is a pick-up. */
  readonly countIn: PassBar;
  /** Every bar as it is played when the tune goes on after it. */
  readonly onward: readonly PassBar[];
  /** The last bar as it is played when the tune ends with it. */
  readonly ending: PassBar;
  /** Length of a full bar, seconds. */
  readonly fullBar: number;
}

/** How a pass is to be played. */
export interface Playing {
  readonly dance: Dance;
  readonly chords: ChordPlan;
  readonly beatsPerMinute: number;
  /** Long : short; null: as the dance asks. */
  readonly swing: number | null;
  /** Who plays the backing. */
  readonly band: Band;
  /** Seed of what hands are early and late by; null: all exactly in time. */
  readonly variation: number | null;
}

/** Onsets that lie closer together than this are one moment, seconds. */
const ONE_MOMENT = 1e-6;
/** Times through: the first goes on, the second ends. */
const TIMES = 2;

interface PlacedBar {
  readonly bar: Timeline['bars'][number];
  readonly index: number;
  readonly time: number;
}

/** Where each bar of a timeline stands in the played order, and which time through it is; seams may leave bars out. */
const placedBars = (score: Score, timeline: Timeline): readonly PlacedBar[] => {
  const order = playedOrder(score);
  let at = -1;
  return timeline.bars.flatMap((bar): PlacedBar[] => {
    for (let next = at + 1; next < order.length * TIMES; next += 1) {
      const place = order[next % order.length];
      if (place?.part !== bar.part || place.bar !== bar.bar) continue;
      at = next;
      return [{ bar, index: next % order.length, time: Math.floor(next / order.length) }];
    }
    return [];
  });
};

/** A note as it is played, and where it would stand exactly in time. */
interface Played {
  readonly exact: number;
  readonly note: SeatedNote;
}

/** The notes as hands play them: each voice a little early or late, as in the tracks. */
const playedNotes = (timeline: Timeline, variation: number | null): readonly Played[] =>
  [...new Set(timeline.notes.map((n) => n.voice))].flatMap((voice) => {
    const exact = timeline.notes.filter((n) => n.voice === voice);
    const loose = variation === null ? exact : loosened(voice, exact, variation);
    return exact.map((n, i): Played => ({ exact: n.start, note: { ...(loose[i] ?? n), seat: 0 } }));
  });

/** One version of the tune once through. */
export const passOf = (score: Score, playing: Playing): Pass => {
  const timeline = timelineOf(score, {
    dance: playing.dance,
    beatsPerMinute: playing.beatsPerMinute,
    melody: true,
    backing: playing.chords,
    band: playing.band,
    click: true,
    countIn: true,
    times: TIMES,
    ...(playing.swing === null ? {} : { swing: playing.swing }),
  });
  const placed = placedBars(score, timeline);
  const first = placed[0]?.bar.start ?? timeline.length;
  const notes = playedNotes(timeline, playing.variation);
  const starting = (from: number, to: number): readonly SeatedNote[] =>
    notes.filter((n) => n.exact >= from - ONE_MOMENT && n.exact < to - ONE_MOMENT).map((n) => n.note);
  const bars = placed.map(({ bar, index, time }) => ({
    time,
    bar: { index, start: bar.start, end: bar.end, notes: starting(bar.start, bar.end) } satisfies PassBar,
  }));
  const last = bars.at(-1)?.bar;
  if (last === undefined) throw new RangeError('passOf: the tune has no bar to play');
  return {
    countIn: { index: -1, start: 0, end: first, notes: starting(0, first) },
    onward: bars.filter((b) => b.time === 0).map((b) => b.bar),
    ending: last,
    fullBar: Math.max(...bars.map(({ bar }) => bar.end - bar.start)),
  };
};

/** A further fiddle that joins a pass. */
export interface Companion {
  readonly pass: Pass;
  /** Its seat, 1 and more. */
  readonly seat: number;
  /** How far it is off the beat in the mean, seconds; negative: early. */
  readonly late: number;
  /** How much that differs from note to note, seconds. */
  readonly loose: number;
}

/** Between −1 and 1, the same for the same numbers: no two fiddlers are apart alike. Ours. */
const scatter = (seat: number, index: number, i: number): number => {
  const x = Math.sin(seat * 127.1 + index * 311.7 + i * 74.7) * 43_758.5453;
  return 2 * (x - Math.floor(x)) - 1;
};

const fiddleOf = (bar: PassBar, { seat, late, loose }: Companion): readonly SeatedNote[] =>
  bar.notes
    .filter((n) => n.voice === 'fiddle')
    .map((n, i) => ({
      ...n,
      seat,
      start: seconds(Math.max(0, n.start + late + loose * scatter(seat, bar.index, i))),
    }));

const joinedBar = (bar: PassBar, companions: readonly Companion[], fiddle: boolean): PassBar => ({
  ...bar,
  notes: [
    ...bar.notes.filter((n) => fiddle || n.voice !== 'fiddle'),
    ...companions.flatMap((c) => {
      const own = c.pass.onward.find((b) => b.index === bar.index);
      return own === undefined ? [] : fiddleOf(own, c);
    }),
  ].toSorted((a, b) => a.start - b.start),
});

/**
 * A pass with further fiddles in it. All passes must have been made with the same `Playing`.
 * @param fiddle - whether the pass's own fiddle plays
 */
export const joinedPass = (pass: Pass, companions: readonly Companion[], fiddle: boolean): Pass => ({
  ...pass,
  onward: pass.onward.map((bar) => joinedBar(bar, companions, fiddle)),
  ending: {
    ...pass.ending,
    notes: [
      ...pass.ending.notes.filter((n) => fiddle || n.voice !== 'fiddle'),
      ...companions.flatMap((c) => fiddleOf(c.pass.ending, c)),
    ].toSorted((a, b) => a.start - b.start),
  },
});
