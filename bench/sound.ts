import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { midiOf, playStock, stockBank } from '../measure/stockPlayer.ts';
import type { MeasureRow, MeasureTable } from '../measure/table.ts';
import { readBank, renderTimeline } from '../src/audio/index.ts';
import { chordPlanOf } from '../src/harmony/index.ts';
import { encodeMp3 } from '../src/media/index.ts';
import { readAbc } from '../src/notation/index.ts';
import { type Timeline, timelineOf } from '../src/perform/index.ts';
import { settleLoudness } from '../src/signal/index.ts';

const ROOT = new URL('../', import.meta.url);
const TUNE = 'demo/lessons/the-ferrymans-wet-coat/tune.abc';
const ROUNDS = 3;

/** The demo jig, twice through, with backing, as a track of the pack would have it. */
const jigTrack = (): Timeline => {
  const [tune] = readAbc(readFileSync(new URL(TUNE, ROOT), 'utf8')).tunes;
  if (tune === undefined) throw new Error(`${TUNE} has no tune`);
  const backing = chordPlanOf(tune.score);
  return timelineOf(tune.score, { beatsPerMinute: 70, tempoStep: 'steady', melody: true, backing, times: 2 });
};

/** The bank as a process reads it when it starts: nothing is remembered from the round before. */
const freshBank = () =>
  readBank(
    readFileSync(new URL('assets/bank/bank.json', ROOT), 'utf8'),
    readFileSync(new URL('assets/bank/bank.pcm', ROOT)),
  );

const secondsOf = async (work: () => unknown): Promise<number> => {
  const from = performance.now();
  await work();
  return (performance.now() - from) / 1000;
};

/** The middle of some rounds. */
const middleOf = async (work: () => unknown): Promise<number> => {
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) times.push(await secondsOf(work));
  return times.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] ?? 0;
};

interface StockTimes {
  readonly whole: number;
  /** Without starting and reading its bank: what a file with one short note costs is taken off. */
  readonly renderingAlone: number;
}

const stockTimes = async (timeline: Timeline): Promise<StockTimes | null> => {
  if (stockBank() === null) return null;
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-bench-'));
  try {
    const [track, one, wav] = ['track.mid', 'one.mid', 'out.wav'].map((name) => join(folder, name)) as [string, string, string]; // biome-ignore format: three names
    const first = timeline.notes.filter((n) => n.voice === 'fiddle').slice(0, 1);
    writeFileSync(track, midiOf(timeline));
    writeFileSync(one, midiOf({ ...timeline, notes: first.map((n) => ({ ...n, start: timeline.tempo[0]?.start ?? n.start })), length: first[0]?.length ?? timeline.length })); // biome-ignore format: one thought
    const whole = await middleOf(() => playStock(track, wav));
    const starting = await middleOf(() => playStock(one, wav));
    return { whole, renderingAlone: Math.max(0.001, whole - starting) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

const at = (value: number, digits = 2): number => Number(value.toFixed(digits));

const speedRow = (what: string, ours: number, theirs: number | null, least: number | null): MeasureRow => ({
  what: `${what}, s`,
  ours: at(ours),
  target: least === null ? 'reported' : `≥ ${least}× faster`,
  ...(theirs === null ? {} : { yardstick: `${at(theirs)} (${at(theirs / ours, 1)}×)` }),
  holds: least === null || theirs === null ? null : theirs / ours >= least,
});

/** How long does a track take, beside FluidSynth on the same notes in the same run? */
export const table = async (): Promise<MeasureTable> => {
  const timeline = jigTrack();
  const fresh = await middleOf(() => renderTimeline(timeline, freshBank()));
  const bank = freshBank();
  renderTimeline(timeline, bank);
  const again = await middleOf(() => renderTimeline(timeline, bank));
  const sound = renderTimeline(timeline, bank);
  const settling = await middleOf(() => settleLoudness(sound));
  const encoding = await secondsOf(() => encodeMp3(sound));
  const stock = await stockTimes(timeline);
  const length = at(timeline.length, 0);
  return {
    title: `Speed of sound: one track of ${length} s, ${timeline.notes.length} notes (yardstick: FluidSynth)`,
    command: 'npm run bench -- sound',
    rows: [
      speedRow('first track: bank read, rendered', fresh, stock?.whole ?? null, 3),
      speedRow('next tracks: rendered, against rendering alone', again, stock?.renderingAlone ?? null, 3),
      speedRow('loudness and peaks settled', settling, null, null),
      speedRow(`MP3 encoded (${at((encoding / timeline.length) * 60)} s a minute)`, encoding, null, null),
    ],
  };
};
