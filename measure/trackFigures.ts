import { type Bank, renderTimeline } from '../src/audio/index.ts';
import { hertz } from '../src/core/index.ts';
import { type Lesson, timelineOfTrack, trackPlans } from '../src/lesson/index.ts';
import type { TimedNote, Timeline } from '../src/perform/index.ts';
import { bandPass, filtered, hannWindow, levelOf, rmsOf, type StereoSound } from '../src/signal/index.ts';

const monoOf = ({ left, right }: StereoSound): Float32Array =>
  left.map((x, i) => 0.5 * (x + (right[i] ?? 0)));

/** Milliseconds that are looked at on either side. */
const REACH = 30;
/** A stroke that has been rising for so long is at its steepest, ms: measured on lone notes. */
const STEEPEST = 4;

/**
 * How late all strokes of a track come together, in ms: where its sound rises most steeply on the whole, against where
 * the timeline has its new strokes; null without a fiddle.
 */
export const lateness = (sound: StereoSound, { notes }: Timeline): number | null => {
  const x = monoOf(sound);
  const step = sound.rate / 1000;
  const level = (ms: number): number => rmsOf(x, Math.round(ms * step), Math.round((ms + 4) * step));
  const strokes = notes.filter((n) => n.voice === 'fiddle' && n.attack === 'bow' && n.start > 0.1);
  if (strokes.length === 0) return null;
  const rises = Array.from({ length: 2 * REACH + 1 }, (_, i) =>
    strokes.reduce((sum, { start }) => {
      const at = 1000 * start + i - REACH;
      return sum + Math.max(0, level(at + 2) - level(at - 6));
    }, 0),
  );
  return rises.indexOf(Math.max(...rises)) - REACH - STEEPEST;
};

/** Power of a frequency in a windowed stretch (Goertzel). */
const powerAt = (x: Float32Array, frequency: number, rate: number): number => {
  const k = 2 * Math.cos((2 * Math.PI * frequency) / rate);
  let a = 0;
  let b = 0;
  for (let i = 0; i < x.length; i += 1) {
    const next = k * a - b + (x[i] as number);
    b = a;
    a = next;
  }
  return a * a + b * b - k * a * b;
};

const PARTIALS = [1, 2, 3, 4];
/** Shorter notes cannot be told from their neighbours by their partials, seconds. */
const LONG_ENOUGH = 0.12;
/** Of longer ones so much is looked at, seconds. */
const LOOKED_AT = 0.3;

/** Of each long enough note of the melody: is its pitch stronger than the semitones beside it? */
export const soundsItsPitch = (sound: StereoSound, notes: readonly TimedNote[]): readonly boolean[] => {
  const x = monoOf(sound);
  return notes
    .filter((n) => n.length >= LONG_ENOUGH && n.beside !== true && n.glideFrom === undefined)
    .map(({ start, length, midi }) => {
      const from = Math.round((start + 0.02) * sound.rate);
      const window = hannWindow(Math.round((Math.min(length, LOOKED_AT) - 0.02) * sound.rate));
      const stretch = Float32Array.from(window, (w, i) => w * (x[from + i] ?? 0));
      const power = (key: number): number =>
        PARTIALS.reduce((sum, k) => sum + powerAt(stretch, k * 440 * 2 ** ((key - 69) / 12), sound.rate), 0);
      const own = power(midi);
      return own > power(midi - 1) && own > power(midi + 1);
    });
};

/** Centres of the octaves in which fiddle and backing are compared, Hz. */
const OCTAVES = [250, 500, 1000, 2000, 4000] as const;

/** A fiddle's stem, the backing's, and when the fiddle sounds. */
interface Stems {
  readonly fiddle: StereoSound;
  readonly band: StereoSound;
  readonly notes: readonly TimedNote[];
}

const octaveOf = (sound: StereoSound, centre: number): Float32Array => {
  const filter = bandPass(hertz(centre), sound.rate, Math.SQRT2);
  return filtered(monoOf(sound), [filter, filter]);
};

/** How far the fiddle stands over the backing in each octave while a note sounds, dB. */
const ratiosIn = ({ fiddle, band, notes }: Stems): readonly (readonly number[])[] => {
  const perOctave = OCTAVES.map((centre) => [octaveOf(fiddle, centre), octaveOf(band, centre)] as const);
  return notes.map(({ start, length }) => {
    const [from, to] = [Math.round(start * fiddle.rate), Math.round((start + length) * fiddle.rate)];
    return perOctave.map(([tune, backing]) =>
      levelOf(rmsOf(tune, from, to) / Math.max(1e-6, rmsOf(backing, from, to))),
    );
  });
};

/** Of each note: dB over the backing in the octave where it stands clearest. */
export const clarityOf = (stems: Stems): readonly number[] =>
  ratiosIn(stems).map((ratios) => Math.max(...ratios));

/** Median over all notes in each octave. */
export const bandRatios = (
  all: readonly Stems[],
): readonly { readonly centre: number; readonly over: number }[] => {
  const ratios = all.flatMap(ratiosIn);
  return OCTAVES.map((centre, i) => {
    const sorted = ratios.map((r) => r[i] ?? 0).toSorted((a, b) => a - b);
    return { centre, over: sorted[Math.floor(sorted.length / 2)] ?? 0 };
  });
};

const sharpestIn = (x: Float32Array, from: number, to: number): number => {
  let most = 0;
  for (let i = Math.max(3, from); i < to; i += 1)
    most = Math.max(
      most,
      Math.abs((x[i] ?? 0) - 3 * (x[i - 1] ?? 0) + 3 * (x[i - 2] ?? 0) - (x[i - 3] ?? 0)),
    );
  return most;
};

/** The sharpest corner within 5 ms of where a looped passage comes round, against the sharpest elsewhere in the tune: variation off. */
export const joinsOf = (lessons: readonly Lesson[], bank: Bank): number => {
  const factors = lessons.map((written) => {
    const settings = { ...written.settings, tracks: [{ version: 'full', bars: 'A1-A2', times: 4 }] };
    const lesson: Lesson = { ...written, settings };
    const plan = trackPlans(lesson, 'default').at(-1);
    if (plan === undefined) throw new Error('no passage');
    const timeline = timelineOfTrack(lesson, plan);
    const sound = renderTimeline(timeline, bank, { variation: null });
    const x = monoOf(sound);
    const near = Math.round(0.005 * sound.rate);
    const first = timeline.bars[0];
    const joins = timeline.bars
      .filter((b, i) => i > 0 && b.part === first?.part && b.bar === first.bar)
      .map((b) => Math.round(b.start * sound.rate));
    const tune = Math.round((first?.start ?? 0) * sound.rate);
    const elsewhere = sharpestIn(x, tune, (joins[0] ?? 0) - near);
    return Math.max(...joins.map((join) => sharpestIn(x, join - near, join + near))) / elsewhere;
  });
  return Math.max(...factors);
};
