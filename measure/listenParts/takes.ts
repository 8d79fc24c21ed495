import { type Bank, renderTimeline } from '../../src/audio/index.ts';
import { decibels, hertz, midiNumber } from '../../src/core/index.ts';
import { chordPlanOf } from '../../src/harmony/index.ts';
import { DANCES } from '../../src/music/index.ts';
import { type Timeline, timelineOf } from '../../src/perform/index.ts';
import type { MonoSound } from '../../src/signal/index.ts';
import { bowedString } from './bowedString.ts';
import type { TakenTune } from './material.ts';
import { type Playing, performed, type Truth } from './performance.ts';
import { asDisc, drones, mixedIn, talk } from './surroundings.ts';

/** Samples a second of the generated recordings. */
const RATE = 22_050;

/** What a recording is made with. */
export interface Recipe extends Playing {
  readonly player: 'bank' | 'bowed';
  /** A 78's band with noise so many decibels below the music. */
  readonly disc?: number;
  /** Level of a guitar against the fiddle, decibels. */
  readonly guitar?: number;
  /** Level of drones against the fiddle, decibels. */
  readonly drone?: number;
  /** Seconds of talk before the tune. */
  readonly talk?: number;
}

/** A generated recording and the truth about it. */
export interface Take {
  readonly name: string;
  readonly tune: TakenTune;
  readonly sound: MonoSound;
  readonly truth: Truth;
}

const bankFiddle = (timeline: Timeline, bank: Bank, cents: number): Float32Array => {
  const tuned: Timeline = {
    ...timeline,
    notes: timeline.notes.map((n) => ({ ...n, midi: midiNumber(n.midi + cents / 100) })),
  };
  const { left, right } = renderTimeline(tuned, bank, {
    voices: ['fiddle'],
    rate: hertz(RATE),
    room: decibels(-17),
  });
  return left.map((x, i) => (x + (right[i] as number)) / 2);
};

/** The guitar of the tune's own chords, in the melody's time: every note moved to where its bar went. */
const guitarFor = (tune: TakenTune, timeline: Timeline, bank: Bank, how: Recipe): Float32Array => {
  const dance = DANCES[tune.dance];
  const backed = timelineOf(tune.score, {
    dance,
    beatsPerMinute: dance.tempo.upToSpeed,
    times: how.times ?? tune.times,
    countIn: false,
    melody: true,
    backing: chordPlanOf(tune.score),
  });
  const place = (t: number): number => {
    const k = Math.max(
      0,
      backed.bars.findLastIndex((b) => b.start <= t + 1e-6),
    );
    const [from, to] = [backed.bars[k], timeline.bars[k]];
    if (from === undefined || to === undefined) return t;
    return to.start + ((t - from.start) * (to.end - to.start)) / (from.end - from.start);
  };
  const notes = backed.notes
    .filter((n) => n.voice === 'guitar')
    .map((n) => ({
      ...n,
      start: Math.max(0, place(n.start)) as typeof n.start,
      midi: midiNumber(n.midi + (how.cents ?? 0) / 100),
    }));
  const { left, right } = renderTimeline({ ...timeline, notes }, bank, {
    voices: ['guitar'],
    rate: hertz(RATE),
  });
  return left.map((x, i) => (x + (right[i] as number)) / 2);
};

/** Makes one recording. @param bank - the sample bank */
export const takeOf = (tune: TakenTune, how: Recipe, bank: Bank): Take => {
  const lead = (how.lead ?? 0.4) + (how.talk ?? 0);
  const { timeline, truth } = performed(tune, { ...how, lead });
  const cents = how.cents ?? 0;
  let samples =
    how.player === 'bank'
      ? bankFiddle(timeline, bank, cents)
      : bowedString(timeline, { rate: RATE, cents, seed: 5 });
  if (how.guitar !== undefined) samples = mixedIn(samples, guitarFor(tune, timeline, bank, how), how.guitar);
  if (how.drone !== undefined) {
    const keynote = tune.score.key.tonic;
    const low =
      keynote?.step === 'G' || keynote?.step === 'C' ? [55, 62] : keynote?.step === 'D' ? [62, 69] : [57, 64];
    samples = mixedIn(
      samples,
      drones(
        samples.length,
        RATE,
        low.map((m) => m + cents / 100),
      ),
      how.drone,
    );
  }
  if (how.talk !== undefined) {
    const said = talk(samples.length, RATE, 3).map((x, i) => (i < (how.talk ?? 0) * RATE ? x : 0));
    samples = mixedIn(samples, said, -6);
  }
  if (how.disc !== undefined) samples = asDisc(samples, RATE, how.disc);
  return { name: tune.name, tune, sound: { rate: hertz(RATE), samples }, truth };
};
