import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { midiOf, stockBank } from '../measure/stockPlayer.ts';
import type { MeasureTable } from '../measure/table.ts';
import { DEFAULT_SETTINGS, lessonOf, timelineOfTrack, trackPlans } from '../src/lesson/index.ts';
import { readAbc } from '../src/notation/index.ts';
import { buildPack, sourceOf } from '../src/pack/index.ts';

const TUNE = new URL('../demo/lessons/the-lantern-at-hollin-quay/tune.abc', import.meta.url);
const TITLE =
  'Speed of a whole pack: ten tracks, ten sheets, texts, zip (yardstick: FluidSynth and LAME, the tracks alone)';

/** The pack, sheets and texts with it, against the tracks alone. */
const WANTED = 1.2;
/** Megabytes that making a pack may take. */
const MOST_MEMORY = 600;

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

/** Each track as a MIDI file through FluidSynth and LAME, so many at a time. */
const stockPack = async (
  songs: readonly Uint8Array[],
  font: string,
  folder: string,
  atATime: number,
): Promise<void> => {
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
  await Promise.all(Array.from({ length: atATime }, thread));
};

/** Says at its end how much memory the process took at its most, threads included, in kilobytes. */
const TELL_PEAK =
  'data:text/javascript,process.on("exit",()=>console.error("peak",process.resourceUsage().maxRSS))';
const PROGRAM = new URL('../bin/tuneladder.mjs', import.meta.url);

/** Megabytes that the command takes at its most for the same pack: here the compiler lies in memory, too. */
const peakMemoryOf = (out: string): number => {
  const args = ['--import', TELL_PEAK, fileURLToPath(PROGRAM), 'pack', fileURLToPath(TUNE), '--out', out];
  const { status, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8' });
  const peaks = [...stderr.matchAll(/^peak (\d+)$/gm)].map(([, kilobytes]) => Number(kilobytes));
  if (status !== 0 || peaks.length === 0) throw new Error(`the command could not make the pack: ${stderr}`);
  return Math.max(...peaks) / 1000;
};

const at = (value: number): number => Number(value.toFixed(1));

/** How long does the demo lesson's pack take, beside the usual programs making its tracks alone, in the same run? */
export const table = async (): Promise<MeasureTable> => {
  const text = readFileSync(TUNE, 'utf8');
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error('the demo lesson has no tune');
  const settings = { ...DEFAULT_SETTINGS, date: '2026-01-31' };
  const lesson = lessonOf(tune.score, settings);
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-bench-'));
  try {
    const ours = await secondsOf(() =>
      buildPack(lesson, sourceOf(text, tune, settings, 'default'), {
        out: join(folder, 'pack'),
        signal: new AbortController().signal,
        onProgress: () => undefined,
      }),
    );
    const memory = peakMemoryOf(join(folder, 'again'));
    const timelines = trackPlans(lesson, 'default').map((plan) => timelineOfTrack(lesson, plan));
    const font = spawnSync('lame', ['--version']).error === undefined ? stockBank() : null;
    const songs = timelines.map(midiOf);
    const threads = Math.min(4, availableParallelism());
    const stock = async (atATime: number): Promise<number | null> =>
      font === null ? null : secondsOf(() => stockPack(songs, font, folder, atATime));
    const inTurn = await stock(1);
    const sideBySide = await stock(threads);
    const minutes = timelines.reduce((all, t) => all + t.length, 0) / 60;
    const against = (theirs: number | null) =>
      theirs === null ? {} : { yardstick: `${at(theirs)} (${at(theirs / ours)}×)` };
    return {
      title: TITLE,
      command: 'npm run bench -- pack',
      rows: [
        {
          what: `whole pack (${minutes.toFixed(0)} minutes of sound), s; theirs track after track`,
          ours: at(ours),
          target: `≥ ${WANTED}× faster`,
          ...against(inTurn),
          holds: inTurn === null ? null : inTurn / ours >= WANTED,
        },
        {
          what: `the same; theirs ${threads} tracks at a time`,
          ours: at(ours),
          target: 'reported',
          ...against(sideBySide),
          holds: null,
        },
        {
          what: 'memory of `tuneladder pack` at its most, MB',
          ours: Math.round(memory),
          target: `≤ ${MOST_MEMORY}`,
          holds: memory <= MOST_MEMORY,
        },
      ],
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
