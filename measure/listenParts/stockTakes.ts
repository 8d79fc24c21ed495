import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { toNumber, type WholeNotes } from '../../src/core/index.ts';
import { hear, understood } from '../../src/listen/index.ts';
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

/** What is heard in a stock bank's playing of a tune. */
export interface StockHeard {
  readonly name: string;
  /** Cents; Infinity where no tuning is told. */
  readonly tuningError: number;
  /** Share by which the tempo is off, the tune given; Infinity where the tune isn't found. */
  readonly tempoError: number;
}

/** Plays a tune on the stock bank, its room as it comes, without the chorus, which puts every note out of tune, and listens to it. */
export const stockHeard = (tune: TakenTune): StockHeard => {
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
    tempoError:
      tempo === null || played === undefined || found.kind !== 'tune'
        ? Infinity
        : Math.abs(speedOf(tempo) / speedOf(played) - 1),
  };
};
