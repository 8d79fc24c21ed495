import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type MonoSound, writeWav } from '../../src/signal/index.ts';
import type { Onset } from './notes.ts';

// The yardstick: aubio's command line tools as Debian packages them (aubio-tools): onsets by its default detector,
// pitch by YIN, the pitch of an onset being the middle of the readings up to the next one.

/** Whether the tools are on this machine. */
export const hasAubio = (): boolean => spawnSync('aubioonset', ['-h']).error === undefined;

const numbersIn = (text: string): readonly (readonly number[])[] =>
  text
    .split('\n')
    .map((line) => line.trim().split(/\s+/).map(Number))
    .filter((row) => row.length > 0 && row.every(Number.isFinite));

/** The onsets and pitches that aubio hears. */
export const aubioNotes = (sound: MonoSound): readonly Onset[] => {
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-aubio-'));
  try {
    const file = join(folder, 'take.wav');
    writeFileSync(
      file,
      writeWav({ rate: sound.rate, left: sound.samples, right: sound.samples }, { depth: 'int16' }),
    );
    const run = (tool: string, more: readonly string[]): readonly (readonly number[])[] =>
      numbersIn(spawnSync(tool, ['-i', file, ...more], { encoding: 'utf8' }).stdout);
    const onsets = run('aubioonset', ['-H', '128', '-B', '512']).map(([t]) => t ?? 0);
    const pitches = run('aubiopitch', ['-p', 'yin', '-u', 'midi', '-H', '128', '-B', '1024']);
    return onsets.flatMap((start, i) => {
      const end = onsets[i + 1] ?? start + 0.3;
      const inside = pitches.filter(([t, m]) => (t ?? 0) > start + 0.02 && (t ?? 0) < end && (m ?? 0) > 40);
      const midi = inside.map(([, m]) => m ?? 0).sort((a, b) => a - b)[Math.floor(inside.length / 2)];
      return midi === undefined ? [] : [{ start, midi }];
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
