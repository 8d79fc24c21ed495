import { readFileSync } from 'node:fs';
import { type RenderOptions, readBank, renderTimeline } from '../src/audio/index.ts';
import { DEFAULT_SETTINGS, lessonOf, timelineOfTrack, trackPlans } from '../src/lesson/index.ts';
import { decodeSound, encodeMp3 } from '../src/media/index.ts';
import { readAbc } from '../src/notation/index.ts';
import type { TimedNote, Timeline } from '../src/perform/index.ts';
import {
  loudnessOf,
  type MonoSound,
  type StereoSound,
  settleLoudness,
  TRACK_GOAL,
  truePeakOf,
} from '../src/signal/index.ts';
import { cutsAndRolls, everyKey, heldNotes, runningNotes, trebles } from './fiddleExam.ts';
import {
  brightnessIn,
  cornersAtBoundaries,
  dipBetween,
  flickOverNote,
  meanOf,
  noteLoudness,
  onsetErrorOf,
  pitchErrorOf,
  riseOf,
  waverOf,
} from './fiddleFigures.ts';
import { stockFiddle } from './stockPlayer.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const ASSETS = new URL('../assets/bank/', import.meta.url);
const TUNE = '../demo/lessons/the-ferrymans-wet-coat/tune.abc';
const bank = readBank(
  readFileSync(new URL('bank.json', ASSETS), 'utf8'),
  readFileSync(new URL('bank.pcm', ASSETS)),
);

const DRY: RenderOptions = { variation: null, room: null, voices: ['fiddle'] };

/** The dry fiddle stem of a timeline. */
const stemOf = (timeline: Timeline): MonoSound => {
  const { rate, left } = renderTimeline(timeline, bank, DRY);
  return { rate, samples: left };
};

/** The same, with all but one note silent: that note as it sounds among its neighbours. */
const loneNote = (timeline: Timeline, index: number): MonoSound =>
  stemOf({ ...timeline, notes: timeline.notes.map((n, i) => (i === index ? n : { ...n, level: 0 })) });

interface Lone {
  readonly note: TimedNote;
  readonly rise: number;
  readonly onset: number;
}

const loneFigures = (timeline: Timeline): readonly Lone[] =>
  timeline.notes.map((note, i) => {
    // A stretch about the note is enough, and quicker.
    const from = Math.max(0, i - 1);
    const stretch = { ...timeline, notes: timeline.notes.slice(from, i + 2) };
    const sound = loneNote(stretch, i - from);
    return { note, rise: riseOf(sound, note), onset: onsetErrorOf(sound, note) };
  });

/** Flicks within a timeline with the note that each interrupts or decorates. */
const flicksIn = ({ notes }: Timeline): readonly (readonly [TimedNote, number])[] =>
  notes.flatMap((flick, i) => {
    const main = notes[i - 1];
    return (flick.attack === 'cut' || flick.attack === 'strike') && main !== undefined
      ? [[flick, main.midi] as const]
      : [];
  });

const dipsIn = (stem: MonoSound, { notes }: Timeline): readonly number[] =>
  notes.flatMap((note, i) => {
    const next = notes[i + 1];
    return note.attack === 'treble' && next !== undefined ? [dipBetween(stem, note, next)] : [];
  });

const at = (value: number, digits = 1): number => Number(value.toFixed(digits));
const largest = (values: readonly number[]): number => Math.max(...values.map(Math.abs));

const attackRows = (): readonly MeasureRow[] => {
  const lone = [...loneFigures(runningNotes()), ...loneFigures(cutsAndRolls()), ...loneFigures(trebles())];
  const rise = largest(lone.map((l) => l.rise));
  const onset = largest(lone.map((l) => l.onset));
  return [
    {
      what: `attack to 90 %, slowest of ${lone.length} running notes and ornaments, ms`,
      ours: at(rise),
      target: '≤ 15',
      holds: rise <= 15,
    },
    { what: 'onset off the timeline, furthest, ms', ours: at(onset, 2), target: '≤ 1', holds: onset <= 1 },
  ];
};

const flickRows = async (): Promise<readonly MeasureRow[]> => {
  const timeline = cutsAndRolls();
  const stock = await stockFiddle(timeline);
  const figures = (stem: MonoSound): readonly number[] =>
    flicksIn(timeline).map(([flick, main]) => flickOverNote(stem, flick, main));
  const ours = figures(stemOf(timeline));
  const theirs = stock === null ? null : figures(stock);
  return [
    {
      what: `40 ms cut or strike over the note it interrupts, mean of ${ours.length}, dB`,
      ours: at(meanOf(ours)),
      target: '≥ +25',
      yardstick: theirs === null ? '−8 (measured before)' : at(meanOf(theirs)),
      holds: meanOf(ours) >= 25,
    },
    {
      what: 'the same, worst, dB',
      ours: at(Math.min(...ours)),
      target: '≥ +10',
      ...(theirs === null ? {} : { yardstick: at(Math.min(...theirs)) }),
      holds: Math.min(...ours) >= 10,
    },
  ];
};

const trebleRows = async (): Promise<readonly MeasureRow[]> => {
  const timeline = trebles();
  const ours = dipsIn(stemOf(timeline), timeline);
  const stock = await stockFiddle(timeline);
  return [
    {
      what: `dips between a treble's strokes, mean of ${ours.length}, dB`,
      ours: at(meanOf(ours)),
      target: '≥ 15',
      ...(stock === null ? {} : { yardstick: at(meanOf(dipsIn(stock, timeline))) }),
      holds: meanOf(ours) >= 15,
    },
    { what: 'the same, shallowest, dB', ours: at(Math.min(...ours)), target: 'reported', holds: null },
  ];
};

interface Levels {
  /** Off the goal, LU. */
  readonly off: number;
  /** True peak, dBTP. */
  readonly peak: number;
}

const levelsIn = (sound: StereoSound): Levels => ({
  off: loudnessOf(sound) - TRACK_GOAL.loudness,
  peak: truePeakOf(sound),
});

/** As a player decodes the track's MP3. */
const asMp3 = async (sound: StereoSound): Promise<StereoSound> => {
  const decoded = await decodeSound(await encodeMp3(sound), { channels: 'apart' });
  if (decoded.kind === 'problem') throw new Error(decoded.message);
  const [left, right] = decoded.channels;
  if (left === undefined || right === undefined) throw new Error('the MP3 is not stereo');
  return { rate: decoded.rate, left, right };
};

const levelRows = (found: readonly Levels[], what: string): readonly MeasureRow[] => {
  const off = largest(found.map((f) => f.off));
  const peak = Math.max(...found.map((f) => f.peak));
  return [
    {
      what: `loudness of ${found.length} tracks${what} off −16 LUFS, furthest, LU`,
      ours: at(off, 2),
      target: '≤ 0.5',
      holds: off <= 0.5,
    },
    { what: 'true peak of the same, highest, dBTP', ours: at(peak, 2), target: '≤ −1', holds: peak <= -1 },
  ];
};

/** The demo jig's ten tracks as the pack renders them, before encoding and as decoded again. */
const trackRows = async (): Promise<readonly MeasureRow[]> => {
  const [tune] = readAbc(readFileSync(new URL(TUNE, import.meta.url), 'utf8')).tunes;
  if (tune === undefined) throw new Error(`${TUNE} has no tune`);
  const lesson = lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2024-01-01' });
  const settled: Levels[] = [];
  const encoded: Levels[] = [];
  for (const plan of trackPlans(lesson, 'default')) {
    const sound = settleLoudness(renderTimeline(timelineOfTrack(lesson, plan), bank));
    settled.push(levelsIn(sound));
    encoded.push(levelsIn(await asMp3(sound)));
  }
  return [...levelRows(settled, ''), ...levelRows(encoded, ' as MP3, decoded again,')];
};

const steadyRows = async (): Promise<readonly MeasureRow[]> => {
  const keys = everyKey();
  const stem = stemOf(keys);
  const stock = await stockFiddle(keys);
  const pitches = keys.notes.map((n) => pitchErrorOf(stem, n));
  const loudness = keys.notes.map((n) => noteLoudness(stem, n));
  const steps = loudness.slice(1).map((l, i) => l - (loudness[i] ?? l));
  const brightness = keys.notes.map((n) => brightnessIn(stem, n));
  const held = heldNotes();
  const heldStem = stemOf(held);
  const running = runningNotes();
  const corners = cornersAtBoundaries(stemOf(running), running);
  const stockPitches = stock === null ? null : keys.notes.map((n) => pitchErrorOf(stock, n));
  return [
    {
      what: 'pitch, furthest of 29 keys, cents',
      ours: at(largest(pitches), 2),
      target: '≤ 3',
      ...(stockPitches === null ? {} : { yardstick: at(largest(stockPitches), 2) }),
      holds: largest(pitches) <= 3,
    },
    {
      what: 'loudness of neighbouring keys, largest step, LU',
      ours: at(largest(steps), 2),
      target: '≤ 1',
      holds: largest(steps) <= 1,
    },
    {
      what: 'brightness of neighbouring keys (above 3 kHz against all), largest step, dB',
      ours: at(largest(brightness.slice(1).map((b, i) => b - (brightness[i] ?? b)))),
      target: '≤ 1.5',
      holds: largest(brightness.slice(1).map((b, i) => b - (brightness[i] ?? b))) <= 1.5,
    },
    {
      what: 'held 6 s: level wavers by at most, dB',
      ours: at(Math.max(...held.notes.map((n) => waverOf(heldStem, n)))),
      target: 'reported',
      holds: null,
    },
    {
      what: 'sharpest corner at note boundaries against inside notes',
      ours: at(corners, 2),
      target: 'reported (clicks: far above 1)',
      holds: null,
    },
  ];
};

/** The figures of the fiddle's sound, on its dry stem with variation off. */
export const table = async (): Promise<MeasureTable> => ({
  title: 'Fiddle sound (dry stem, variation off; yardstick: the source bank in a stock player)',
  command: 'npm run measure -- sound',
  rows: [
    ...attackRows(),
    ...(await flickRows()),
    ...(await trebleRows()),
    ...(await steadyRows()),
    ...(await trackRows()),
  ],
});
