import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { midiOf, stockBank } from '../measure/stockPlayer.ts';
import type { MeasureTable } from '../measure/table.ts';
import { DEFAULT_SETTINGS, lessonOf, timelineOfTrack, trackPlans } from '../src/lesson/index.ts';
import { readAbc } from '../src/notation/index.ts';
import { buildPack, sourceOf } from '../src/pack/index.ts';

const TUNE = new URL('../demo/lessons/the-lantern-at-hollin-quay/tune.abc', import.meta.url);
const TITLE =
  'Speed of a whole pack: ten tracks, ten sheets, texts, zip (yardstick: FluidSynth and LAME, the tracks alone)';

const secondsOf = async (work: () => Promise<unknown>): Promise<number> => {
  const from = performance.now();
  await work();
  return (performance.now() - from) / 1000;
};

const finished = (command: string, args: readonly string[]): Promise<void> =>
  new Promise((resolve, reject) => {
    spawn(command, args, { stdio: 'ignore' })
      .on('error', reject)
      .on('exit', (code) => (code === 0 ? resolve() : reject(new Error(`${command} ended with ${code}`))));
  });

/** Each track as a MIDI file through FluidSynth and LAME, as many at a time as we use threads. */
const stockPack = async (songs: readonly Uint8Array[], font: string, folder: string): Promise<void> => {
  const waiting = songs.map((song, i) => [song, join(folder, String(i))] as const);
  const thread = async (): Promise<void> => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      const [song, name] = next;
      writeFileSync(`${name}.mid`, song);
      await finished('fluidsynth', [
        '-ni',
        '-r',
        '44100',
        '-T',
        'wav',
        '-F',
        `${name}.wav`,
        font,
        `${name}.mid`,
      ]);
      await finished('lame', ['--quiet', '-b', '128', `${name}.wav`, `${name}.mp3`]);
    }
  };
  await Promise.all(Array.from({ length: Math.min(4, availableParallelism()) }, thread));
};

const at = (value: number): number => Number(value.toFixed(1));

/** How long does the demo lesson's pack take, beside the usual programs making its tracks alone, in the same run? */
export const table = async (): Promise<MeasureTable> => {
  const text = readFileSync(TUNE, 'utf8');
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error('the demo lesson has no tune');
  const settings = { ...DEFAULT_SETTINGS, date: '2026-01-31' };
  const lesson = lessonOf(tune.score, settings);
  const timelines = trackPlans(lesson, 'default').map((plan) => timelineOfTrack(lesson, plan));
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-bench-'));
  try {
    const ours = await secondsOf(() =>
      buildPack(lesson, sourceOf(text, tune, settings, 'default'), {
        out: join(folder, 'pack'),
        signal: new AbortController().signal,
        onProgress: () => undefined,
      }),
    );
    const font = spawnSync('lame', ['--version']).error === undefined ? stockBank() : null;
    const theirs =
      font === null ? null : await secondsOf(() => stockPack(timelines.map(midiOf), font, folder));
    const minutes = timelines.reduce((all, t) => all + t.length, 0) / 60;
    return {
      title: TITLE,
      command: 'npm run bench -- pack',
      rows: [
        {
          what: `whole pack (${minutes.toFixed(0)} minutes of sound), s`,
          ours: at(ours),
          target: '≥ 1× faster',
          ...(theirs === null ? {} : { yardstick: `${at(theirs)} (${at(theirs / ours)}×)` }),
          holds: theirs === null ? null : theirs / ours >= 1,
        },
      ],
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
