import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readBank, renderTimeline } from '../src/audio/index.ts';
import { hertz } from '../src/core/index.ts';
import { chordPlanOf } from '../src/harmony/index.ts';
import { encodeMp3 } from '../src/media/index.ts';
import { DANCES } from '../src/music/index.ts';
import { readAbc } from '../src/notation/index.ts';
import { timelineOf } from '../src/perform/index.ts';
import { writeWav } from '../src/signal/index.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const ROOT = new URL('../', import.meta.url);
const TUNE = 'demo/lessons/the-ferrymans-wet-coat/tune.abc';
const RATE = hertz(44_100);
const SECONDS = 600;
/** Megabytes of a ten-minute take. */
const MOST = 500;

/** Ten minutes of a demo jig, with its guitar. */
const tenMinutes = () => {
  const bank = readBank(
    readFileSync(new URL('assets/bank/bank.json', ROOT), 'utf8'),
    readFileSync(new URL('assets/bank/bank.pcm', ROOT)),
  );
  const score = readAbc(readFileSync(new URL(TUNE, ROOT), 'utf8')).tunes[0]?.score;
  if (score === undefined) throw new Error(`${TUNE} has no tune`);
  const timeline = timelineOf(score, {
    dance: DANCES.jig,
    beatsPerMinute: DANCES.jig.tempo.upToSpeed,
    times: 20,
    countIn: false,
    melody: true,
    backing: chordPlanOf(score),
  });
  const { left, right } = renderTimeline(timeline, bank, { voices: ['fiddle', 'guitar'], rate: RATE });
  const frames = SECONDS * RATE;
  if (left.length < frames) throw new Error('the take is shorter than ten minutes');
  return { rate: RATE, left: left.slice(0, frames), right: right.slice(0, frames) };
};

/**
 * Has a program say its peak when it ends, in kilobytes. From Linux' own book: what the system tells a program of its peak
 * counts the program that started it, too.
 */
const SAYS_PEAK = `data:text/javascript,${encodeURIComponent(
  `import { readFileSync } from 'node:fs';
  process.on('exit', () => process.stderr.write(/VmHWM:\\s+\\d+/.exec(readFileSync('/proc/self/status', 'utf8'))[0]));`,
)}`;

/** Megabytes that `listen` takes at most. */
const peakOf = (file: string): number => {
  const program = fileURLToPath(new URL('bin/tuneladder.mjs', ROOT));
  const tune = fileURLToPath(new URL(TUNE, ROOT));
  const args = ['--import', SAYS_PEAK, program, 'listen', file, '--tune', tune, '--json'];
  const run = spawnSync(process.execPath, args, { encoding: 'utf8', maxBuffer: 1 << 28 });
  const peak = /VmHWM:\s+(\d+)/.exec(run.stderr)?.[1];
  if (run.status !== 0 || peak === undefined)
    throw new Error(`listen ended with ${run.status}: ${run.stderr}`);
  return Number(peak) / 1000;
};

/** What listening to ten minutes takes of memory. */
export const table = async (): Promise<MeasureTable> => {
  const about = { title: 'Memory for listening to ten minutes', command: 'npm run measure -- listenMemory' };
  if (!existsSync('/proc/self/status'))
    return {
      ...about,
      rows: [{ what: 'skipped: not on Linux', ours: '', target: 'reported', holds: null }],
    };
  const sound = tenMinutes();
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-memory-'));
  const files: readonly (readonly [string, string, () => Uint8Array | Promise<Uint8Array>])[] = [
    ['WAV, 16 bit, two channels', 'a.wav', () => writeWav(sound)],
    ['WAV, 24 bit, two channels', 'b.wav', () => writeWav(sound, { depth: 'int24' })],
    ['MP3', 'c.mp3', () => encodeMp3(sound)],
  ];
  const rows: MeasureRow[] = [];
  try {
    for (const [what, name, bytes] of files) {
      writeFileSync(join(folder, name), await bytes());
      const peak = Math.round(peakOf(join(folder, name)));
      rows.push({
        what: `${what}: peak of memory, MB`,
        ours: peak,
        target: `≤ ${MOST}`,
        holds: peak <= MOST,
      });
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return { ...about, rows };
};
