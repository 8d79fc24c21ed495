import { type Seconds, seconds, subtract, type WholeNotes, ZERO } from '../core/index.ts';
import type { ChordPlan } from '../harmony/index.ts';
import type { Chord } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import { backingOf, type LeadOn } from './backing.ts';
import { type Clock, clockOf, type LaidTune } from './clock.ts';
import { beatsOf, clicksOn, countInBeats, countInOf } from './countIn.ts';
import { CLOSING_HOLD } from './data.ts';
import { layOutInARow } from './layout.ts';
import { playedNote } from './playedNote.ts';
import { type PerformSettings, performanceOf } from './settings.ts';
import { strokesOf } from './strokes.ts';
import type { TimedBar, TimedBeat, TimedNote, Timeline, Voice } from './timeline.ts';

const VOICE_ORDER: readonly Voice[] = ['click', 'drum', 'bass', 'guitar', 'piano', 'fiddle'];

const inOrder = (notes: readonly TimedNote[]): readonly TimedNote[] =>
  notes.toSorted((a, b) => a.start - b.start || VOICE_ORDER.indexOf(a.voice) - VOICE_ORDER.indexOf(b.voice));

/** The chord that turns the corner into the next tune of a set. */
export interface TurnChord {
  readonly chord: Chord;
  /** It holds from so long before the next tune's first full bar on. */
  readonly before: WholeNotes;
}

/** A version of a tune of a set, and how it is played. */
export interface SetTune {
  readonly score: Score;
  readonly settings: PerformSettings;
  /** What the backing plays where the next tune follows; null: the tune's own chord goes on. */
  readonly turn: TurnChord | null;
}

/** What the playing is hung on: which bars, and when. */
interface Frame {
  readonly tunes: readonly (LaidTune & { readonly turn: TurnChord | null })[];
  readonly countIn: ReturnType<typeof countInOf>;
  readonly clock: Clock;
  /** When the last bar ends, and when the last sound does. */
  readonly end: Seconds;
  readonly closing: Seconds;
}

const frameOf = (set: readonly SetTune[]): Frame => {
  const played = set.map(({ score, settings, turn }) => ({
    score,
    how: performanceOf(score, settings),
    turn,
  }));
  const layouts = layOutInARow(played.map(({ score, how }) => ({ score, extent: how })));
  const tunes = played.flatMap((tune, i) => {
    const layout = layouts[i];
    return layout === undefined ? [] : [{ ...tune, layout }];
  });
  const [first] = tunes;
  if (first === undefined) throw new RangeError('timelineOfSet: a set of no tunes');
  const countIn = countInOf(first.layout.bars[0]?.bar.metre ?? first.score.metre, first.how);
  const clock = clockOf(tunes, countIn?.length ?? ZERO);
  const last = tunes.at(-1)?.layout.bars.at(-1);
  const end = last === undefined ? clock.timeOf(ZERO) : clock.timeAt(last, last.length);
  const held = tunes.at(-1)?.layout.closing ?? null;
  const closing =
    held === null || last === undefined
      ? end
      : seconds(Math.max(end, clock.timeOf(held.start) + CLOSING_HOLD));
  return { tunes, countIn, clock, end, closing };
};

const barsOf = ({ tunes, clock, end }: Frame): readonly TimedBar[] => {
  const placed = tunes.flatMap(({ layout }, tune) => layout.bars.map((bar) => ({ bar, tune })));
  const starts = placed.map(({ bar }) => clock.timeAt(bar, ZERO));
  return placed.map(({ bar, tune }, i) => ({
    start: starts[i] ?? seconds(0),
    end: starts[i + 1] ?? end,
    part: bar.part,
    bar: bar.index,
    ...(bar.bar.number === null ? {} : { number: `${bar.bar.number}` }),
    pass: bar.pass,
    ...(bar.answer ? { answer: true as const } : {}),
    ...(tunes.length === 1 ? {} : { tune }),
  }));
};

/** The last note rings until then: at the end as long as a close asks, before the next tune until that begins. */
const held = (notes: readonly TimedNote[], until: number): readonly TimedNote[] => {
  const last = notes.findLast((n) => n.beside !== true);
  if (last === undefined) return notes;
  const end = last.start + last.length;
  return notes.map((n) =>
    n.start + n.length >= end - 1e-9 ? { ...n, length: seconds(until - n.start) } : n,
  );
};

/** When the tune after this one begins; null where none does. */
const nextStart = ({ tunes, clock }: Frame, index: number): Seconds | null => {
  const next = tunes[index + 1]?.layout.bars[0];
  return next === undefined ? null : clock.timeAt(next, ZERO);
};

const melodyOf = (frame: Frame, index: number): readonly TimedNote[] => {
  const tune = frame.tunes[index];
  if (tune === undefined || !tune.how.melody) return [];
  const { score, layout, how } = tune;
  const notes = strokesOf(score, layout, { clock: frame.clock, dance: how.dance })
    .filter((stroke) => !stroke.bar.answer)
    .flatMap((stroke) => playedNote(stroke, frame.clock, how.dance))
    .map((note) => (frame.tunes.length === 1 ? note : { ...note, tune: index }));
  const last = layout.bars.at(-1);
  const until = nextStart(frame, index);
  const rings = until === null ? last?.answer !== true : last?.events.at(-1)?.event.kind === 'note';
  return rings ? held(notes, until ?? frame.closing) : notes;
};

const firstChord = (plan: ChordPlan | null): Chord | null => plan?.[0]?.chord ?? null;

/** What the backing of a tune plays into; undefined: it ends there. */
const leadOnOf = ({ tunes }: Frame, index: number): LeadOn | undefined => {
  const [tune, next] = [tunes[index], tunes[index + 1]];
  if (tune === undefined || next === undefined) return undefined;
  const full = next.layout.bars.findIndex((bar) => bar.offset.num === 0);
  const bars = next.layout.bars.slice(0, full + 1);
  const target = bars.at(-1)?.start;
  return {
    bars,
    turn:
      tune.turn === null || target === undefined
        ? null
        : { at: subtract(target, tune.turn.before), chord: tune.turn.chord },
    chord: firstChord(next.how.backing),
  };
};

const backingOfTune = (frame: Frame, index: number): readonly TimedNote[] => {
  const tune = frame.tunes[index];
  if (tune === undefined || tune.how.backing === null) return [];
  const { dance, backing: plan, band } = tune.how;
  const leadOn = leadOnOf(frame, index);
  const task = { layout: tune.layout, clock: frame.clock, dance, plan, band };
  return backingOf(leadOn === undefined ? task : { ...task, leadOn }, frame.closing);
};

/** The beats of each tune; those under a pick-up between tunes are beats of the tune before. */
const beatsIn = ({ tunes, clock }: Frame): readonly (readonly TimedBeat[])[] =>
  tunes.map(({ layout, how }, i) => {
    const next = tunes[i + 1]?.layout.bars.find((bar) => bar.offset.num === 0)?.start;
    const from =
      i === 0
        ? 0
        : Math.max(
            0,
            layout.bars.findIndex((bar) => bar.offset.num === 0),
          );
    const bars = layout.bars.slice(from);
    const last = bars.at(-1);
    if (last === undefined || next === undefined) return beatsOf({ bars, closing: null }, how.dance, clock);
    const whole = { ...last, length: subtract(next, last.start) };
    return beatsOf({ bars: [...bars.slice(0, -1), whole], closing: null }, how.dance, clock);
  });

/**
 * How long is `timelineOfSet` of tunes that have notes? Without working out who plays what, in a small part of the time.
 * @returns from 0 to the end of the last sound, count-in included, ring-out excluded
 * @throws RangeError as `timelineOfSet` does
 */
export const setTimelineLengthOf = (set: readonly SetTune[]): Seconds => {
  const { tunes, end, closing } = frameOf(set);
  return tunes.some(({ how }) => how.melody || how.backing !== null) ? closing : end;
};

/** `setTimelineLengthOf` of one tune. */
export const timelineLengthOf = (score: Score, settings: PerformSettings): Seconds =>
  setTimelineLengthOf([{ score, settings, turn: null }]);

/**
 * When does everything sound when tunes are played in a row, each its own times through?
 *
 * The first tune is counted in, the last one ends on a held note. Between two tunes nothing stops: the next one's pick-up
 * lies in the last bar of the one before, whose last note gives way to it or fills the bar; where the pick-up has no room
 * there it is left out. Each tune has its own feel, and from its first beat on its own tempo: a pick-up keeps the pulse
 * of the tune before, so that no foot stumbles. Notes and bars say which tune they are of.
 * @throws RangeError as `timelineOf` does, or when there is no tune
 */
export const timelineOfSet = (set: readonly SetTune[]): Timeline => {
  const frame = frameOf(set);
  const { tunes, countIn, clock, end, closing } = frame;
  const counted = countIn === null ? [] : countInBeats(countIn, tunes[0]?.layout.bars[0], clock);
  const beats = beatsIn(frame);
  const clicks = tunes.flatMap(({ how }, i) => (how.click ? clicksOn(beats[i] ?? []) : []));
  const melody = tunes.flatMap((_, i) => melodyOf(frame, i));
  const backing = tunes.flatMap((_, i) => backingOfTune(frame, i));
  return {
    notes: inOrder([...clicksOn(counted), ...clicks, ...backing, ...melody]),
    bars: barsOf(frame),
    beats: [...counted, ...beats.flat()],
    tempo: clock.tempo,
    length: melody.length + backing.length > 0 ? closing : end,
  };
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
export const timelineOf = (score: Score, settings: PerformSettings): Timeline =>
  timelineOfSet([{ score, settings, turn: null }]);
