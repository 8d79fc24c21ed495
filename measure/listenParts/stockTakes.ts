import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { midiNumber, seconds, toNumber, type WholeNotes } from '../../src/core/index.ts';
import { hear, understood } from '../../src/listen/index.ts';
import type { TimedNote, Timeline } from '../../src/perform/index.ts';
import { type MonoSound, readWav } from '../../src/signal/index.ts';
import { midiOf } from '../stockPlayer.ts';
import type { TakenTune } from './material.ts';
import { performed } from './performance.ts';

// Recordings of a stock bank played by FluidSynth, as Debian packages both (fluidsynth, fluid-soundfont-gm): its long
// releases smear running notes, so only tuning and tempo are asked of them.

const BANK = '/usr/share/sounds/sf2/FluidR3_GM.sf2';
const PLAYER = 'fluidsynth';

/** Whether player and bank are on this machine. */
export const hasStockBank = (): boolean => existsSync(BANK) && spawnSync(PLAYER, ['--version']).status === 0;

const stockSound = (midi: Uint8Array): MonoSound => {
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-stock-'));
  try {
    const [song, wav] = [join(folder, 'take.mid'), join(folder, 'take.wav')];
    writeFileSync(song, midi);
    const run = spawnSync(PLAYER, [
      '-ni',
      '-o',
      'synth.chorus.active=0',
      '-r',
      '44100',
      '-T',
      'wav',
      '-F',
      wav,
      BANK,
      song,
    ]);
    if (run.status !== 0) throw new Error(`fluidsynth ended with ${run.status}: ${run.stderr}`);
    const read = readWav(readFileSync(wav));
    const left = read.kind === 'wav' ? read.channels[0] : undefined;
    if (read.kind !== 'wav' || left === undefined) throw new Error('fluidsynth wrote no sound');
    return { rate: read.rate, samples: left };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** Lone notes of the bank: MIDI numbers, seconds from one to the next, their length. */
const [LOWEST, HIGHEST, EVERY, LENGTH] = [55, 88, 2, 1.5] as const;
/** The phase is read in windows of so many seconds, so far apart. */
const [WINDOW, STEP] = [0.2, 0.01] as const;

/** Phase of a sine in a sound at a time, in turns. */
const phaseAt = ({ samples, rate }: MonoSound, frequency: number, time: number): number => {
  const [from, count] = [Math.round(time * rate), Math.round(WINDOW * rate)];
  let [real, imaginary] = [0, 0];
  for (let i = 0; i < count; i += 1) {
    const x = (1 - Math.cos((2 * Math.PI * i) / count)) * (samples[from + i] ?? 0);
    const angle = (2 * Math.PI * frequency * (from + i)) / rate;
    real += x * Math.cos(angle);
    imaginary -= x * Math.sin(angle);
  }
  return Math.atan2(imaginary, real) / (2 * Math.PI);
};

/**
 * How far each key of the bank's fiddle lies off A = 440 Hz by itself, cents: up to ten, the same for three keys at a
 * time. Told by how the phase of a lone note's fundamental runs on, which listening doesn't look at.
 */
export const bankTuning = (): ReadonlyMap<number, number> => {
  const keys = Array.from({ length: HIGHEST - LOWEST + 1 }, (_, i) => LOWEST + i);
  const notes = keys.map(
    (key, i): TimedNote => ({
      voice: 'fiddle',
      start: seconds(EVERY * i),
      length: seconds(LENGTH),
      midi: midiNumber(key),
      level: 0.7,
      attack: 'bow',
    }),
  );
  const length = seconds(EVERY * keys.length);
  const sound = stockSound(midiOf({ notes, bars: [], beats: [], tempo: [], length }));
  return new Map(
    keys.map((key, i) => {
      const frequency = 440 * 2 ** ((key - 69) / 12);
      let [sum, count] = [0, 0];
      for (let t = EVERY * i + 0.1; t < EVERY * i + LENGTH - WINDOW - 0.1; t += STEP) {
        const turns = phaseAt(sound, frequency, t + STEP) - phaseAt(sound, frequency, t);
        sum += 1200 * Math.log2(1 + (turns - Math.round(turns)) / STEP / frequency);
        count += 1;
      }
      return [key, sum / count];
    }),
  );
};

/** What is heard in a stock bank's playing of a tune. */
export interface StockHeard {
  readonly name: string;
  /** Cents, against A = 440 Hz and against the keys of the bank as they are; Infinity where no tuning is told. */
  readonly tuningError: number;
  readonly tuningErrorOfKeys: number;
  /** Share by which the tempo is off, the tune given; Infinity where the tune isn't found. */
  readonly tempoError: number;
}

/** A note counts for at most so long, seconds, as in listening. */
const LONGEST = 0.3;

/** The mean of the keys that a tune plays, cents. */
const keysOf = ({ notes }: Timeline, bank: ReadonlyMap<number, number>): number => {
  let [sum, all] = [0, 0];
  for (const { midi, length } of notes) {
    sum += Math.min(LONGEST, length) * (bank.get(Math.round(midi)) ?? 0);
    all += Math.min(LONGEST, length);
  }
  return sum / Math.max(1e-9, all);
};

/** Plays a tune on the stock bank, its room as it comes, without the chorus, which puts every note out of tune, and listens to it. */
export const stockHeard = (tune: TakenTune, bank: ReadonlyMap<number, number>): StockHeard => {
  const { timeline } = performed(tune);
  const { samples, rate } = stockSound(midiOf(timeline));
  const heard = hear(samples, rate);
  const { tempo, found } = understood(heard, rate, { score: tune.score });
  const [played] = timeline.tempo;
  const speedOf = (t: { readonly beatsPerMinute: number; readonly beat: WholeNotes }): number =>
    t.beatsPerMinute * toNumber(t.beat);
  return {
    name: tune.name,
    tuningError: Math.abs(heard.tuning?.cents ?? Infinity),
    tuningErrorOfKeys: Math.abs((heard.tuning?.cents ?? Infinity) - keysOf(timeline, bank)),
    tempoError:
      tempo === null || played === undefined || found.kind !== 'tune'
        ? Infinity
        : Math.abs(speedOf(tempo) / speedOf(played) - 1),
  };
};
