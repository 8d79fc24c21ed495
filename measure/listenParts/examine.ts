import { toNumber, wholeNotes } from '../../src/core/index.ts';
import { draftFrom, type Heard, hear, type Listening, understood } from '../../src/listen/index.ts';
import { barLengthOf, DANCES } from '../../src/music/index.ts';
import { aubioNotes } from './aubio.ts';
import { draftShare } from './draftNotes.ts';
import type { TakenTune } from './material.ts';
import { comparedFlicks, comparedNotes, comparedTimes, type Found } from './notes.ts';
import type { Truth } from './performance.ts';
import type { Take } from './takes.ts';

/** What was found in one recording, beside the truth. */
export interface Examined {
  readonly name: string;
  readonly seconds: number;
  /** Processor seconds that listening took. */
  readonly work: number;
  /** Cents. */
  readonly tuningError: number;
  readonly notes: Found;
  readonly flicks: Found;
  readonly theirs: Found | null;
  /** Metre given, tune not. */
  readonly beats: Found;
  /** Null where nothing is swung. */
  readonly swingError: number | null;
  /** Seconds, of every note that was matched with a written one. */
  readonly onsetErrors: readonly number[];
  /** Seconds, of every bar line; a bar that wasn't found is off by infinity. */
  readonly barErrors: readonly number[];
  /** Share of written notes that the draft has. */
  readonly draft: number;
}

/** Quavers of the tune's bar and of its dance's beat: what is given where the tune is not. */
const metreOf = ({ score, dance }: TakenTune): { readonly quavers: number; readonly beat: number } => ({
  quavers: Math.round(8 * toNumber(barLengthOf(score.metre) ?? wholeNotes(1, 1))),
  beat: Math.round(8 * toNumber(DANCES[dance].beat)),
});

/** A beat counts as found within this, seconds. Source: the tolerance usual in beat tracking (70 ms). */
const BEAT_NEAR = 0.07;

const onsetErrorsOf = (truth: Truth, listening: Listening): readonly number[] => {
  const { found } = listening;
  if (found.kind !== 'tune') return [];
  return found.matched.flatMap((i) => {
    const note = listening.notes[i];
    if (note === undefined) return [];
    const same = truth.notes.filter((t) => Math.abs(t.midi - note.midi) < 0.5);
    return same.length === 0 ? [] : [Math.min(...same.map((t) => Math.abs(t.start - note.start)))];
  });
};

const barErrorsOf = (truth: Truth, listening: Listening): readonly number[] => {
  const starts = listening.bars.filter((b) => b.number !== null).map((b) => b.start);
  return truth.bars
    .filter((b) => !b.afterStop)
    .map((b) => Math.min(Infinity, ...starts.map((s) => Math.abs(s - b.start))));
};

/** Listens to a take without and with its tune. */
export const examined = (take: Take, tune: TakenTune, withAubio: boolean): Examined => {
  const { truth, sound } = take;
  const before = process.cpuUsage().user;
  const heard: Heard = hear(sound.samples, sound.rate);
  const metre = metreOf(tune);
  const byEar = understood(heard, sound.rate, { metre });
  const work = (process.cpuUsage().user - before) / 1e6;
  const known = understood(heard, sound.rate, { score: tune.score });
  const simple = metre.beat !== 3;
  return {
    name: take.name,
    seconds: heard.seconds,
    work,
    tuningError: Math.abs((heard.tuning?.cents ?? 50) - truth.cents),
    notes: comparedNotes(truth.notes, heard.notes),
    flicks: comparedFlicks(truth, heard),
    theirs: withAubio ? comparedNotes(truth.notes, aubioNotes(sound)) : null,
    beats: comparedTimes(truth.beats, byEar.beats, BEAT_NEAR),
    swingError: simple && truth.swing !== null ? Math.abs((byEar.swing?.ratio ?? 0) - truth.swing) : null,
    onsetErrors: onsetErrorsOf(truth, known),
    barErrors: barErrorsOf(truth, known),
    draft: draftShare(draftFrom(byEar)?.score ?? null, tune.score, metre.quavers),
  };
};
