import { add, type Seconds, seconds, ZERO } from '../core/index.ts';
import type { Score } from '../score/index.ts';
import { backingOf } from './backing.ts';
import { type Clock, clockOf } from './clock.ts';
import { beatsOf, clicksOn, countInBeats, countInOf } from './countIn.ts';
import { CLOSING_HOLD } from './data.ts';
import { type Layout, layOut } from './layout.ts';
import { playedNote } from './playedNote.ts';
import { type Performance, type PerformSettings, performanceOf } from './settings.ts';
import { strokesOf } from './strokes.ts';
import type { TimedBar, TimedNote, Timeline, Voice } from './timeline.ts';

const VOICE_ORDER: readonly Voice[] = ['click', 'drum', 'bass', 'guitar', 'piano', 'fiddle'];

const inOrder = (notes: readonly TimedNote[]): readonly TimedNote[] =>
  notes.toSorted((a, b) => a.start - b.start || VOICE_ORDER.indexOf(a.voice) - VOICE_ORDER.indexOf(b.voice));

const endOf = (layout: Layout, clock: Clock): Seconds => {
  const last = layout.bars.at(-1);
  return last === undefined ? clock.timeOf(ZERO) : clock.timeAt(last, last.length);
};

const barsOf = (layout: Layout, clock: Clock): readonly TimedBar[] => {
  const starts = layout.bars.map((bar) => clock.timeAt(bar, ZERO));
  return layout.bars.map((bar, i) => ({
    start: starts[i] ?? seconds(0),
    end: starts[i + 1] ?? endOf(layout, clock),
    part: bar.part,
    bar: bar.index,
    ...(bar.bar.number === null ? {} : { number: `${bar.bar.number}` }),
    pass: bar.pass,
    ...(bar.answer ? { answer: true as const } : {}),
  }));
};

/** The last note rings at least as long as a close asks. */
const held = (notes: readonly TimedNote[], until: number): readonly TimedNote[] => {
  const last = notes.findLast((n) => n.beside !== true);
  if (last === undefined) return notes;
  const end = last.start + last.length;
  return notes.map((n) =>
    n.start + n.length >= end - 1e-9 ? { ...n, length: seconds(until - n.start) } : n,
  );
};

const melodyOf = (score: Score, layout: Layout, clock: Clock, how: Performance): readonly TimedNote[] =>
  strokesOf(score, layout, { clock, dance: how.dance })
    .filter((stroke) => !stroke.bar.answer)
    .flatMap((stroke) => playedNote(stroke, clock, how.dance));

/** What the playing is hung on: which bars, and when. */
const frameOf = (score: Score, settings: PerformSettings) => {
  const how = performanceOf(score, settings);
  const layout = layOut(score, how);
  const countIn = countInOf(layout.bars[0]?.bar.metre ?? score.metre, how);
  const clock = clockOf(score, layout, how, countIn?.length ?? ZERO);
  const last = layout.bars.at(-1);
  const end = endOf(layout, clock);
  const closing =
    layout.closing === null || last === undefined
      ? end
      : seconds(Math.max(end, clock.timeOf(add(layout.closing.start, ZERO)) + CLOSING_HOLD));
  return { how, layout, countIn, clock, last, end, closing };
};

/**
 * How long is `timelineOf` of a tune that has notes? Without working out who plays what, in a small part of the time.
 * @returns from 0 to the end of the last sound, count-in included, ring-out excluded
 * @throws RangeError as `timelineOf` does
 */
export const timelineLengthOf = (score: Score, settings: PerformSettings): Seconds => {
  const { how, end, closing } = frameOf(score, settings);
  return how.melody || how.backing !== null ? closing : end;
};

/**
 * When does everything sound when this version of a tune is played so?
 *
 * Repeats are unfolded and the tune played its times through; a pick-up lies in the last bar before it; the last time
 * ends on a held note. Ornaments are played in milliseconds from the time of the note that they stand on, swing and a
 * jig's lilt move only what lies between beats: a beat stands exactly where its tempo puts it. Lengths are legato; what
 * a bow leaves between strokes is the sound's business. The same score and settings give the same timeline.
 * @throws RangeError when a setting is out of range, or the repeats unfold to more bars than the score room plays
 * @example timelineOf(score, { beatsPerMinute: 70, melody: true, backing: chordPlanOf(score) })
 */
export const timelineOf = (score: Score, settings: PerformSettings): Timeline => {
  const { how, layout, countIn, clock, last, end, closing } = frameOf(score, settings);
  const counted = countIn === null ? [] : countInBeats(countIn, layout.bars[0], clock);
  const beats = beatsOf(layout, how.dance, clock);
  const tune = how.melody ? melodyOf(score, layout, clock, how) : [];
  const melody = last?.answer === true ? tune : held(tune, closing);
  const { dance, backing: plan, band } = how;
  const backing = plan === null ? [] : backingOf({ layout, clock, dance, plan, band }, closing);
  return {
    notes: inOrder([...clicksOn(counted), ...(how.click ? clicksOn(beats) : []), ...backing, ...melody]),
    bars: barsOf(layout, clock),
    beats: [...counted, ...beats],
    tempo: clock.tempo,
    length: melody.length + backing.length > 0 ? closing : end,
  };
};
