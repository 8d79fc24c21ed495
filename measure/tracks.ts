import { readdirSync, readFileSync } from 'node:fs';
import { readBank, renderTimeline } from '../src/audio/index.ts';
import {
  DEFAULT_SETTINGS,
  type Lesson,
  lessonOf,
  type TrackPlan,
  timelineOfTrack,
  trackPlans,
} from '../src/lesson/index.ts';
import { readAbc } from '../src/notation/index.ts';
import { loudnessOf, settleLoudness, TRACK_GOAL, truePeakOf } from '../src/signal/index.ts';
import type { MeasureRow, MeasureTable } from './table.ts';
import { bandRatios, clarityOf, joinsOf, lateness, soundsItsPitch } from './trackFigures.ts';

const COMMAND = 'npm run measure -- tracks';
const DEMO = new URL('../demo/lessons/', import.meta.url);
const ASSETS = new URL('../assets/bank/', import.meta.url);
const bank = readBank(
  readFileSync(new URL('bank.json', ASSETS), 'utf8'),
  readFileSync(new URL('bank.pcm', ASSETS)),
);

const lessons = (): readonly Lesson[] =>
  readdirSync(DEMO).map((name) => {
    const [tune] = readAbc(readFileSync(new URL(`${name}/tune.abc`, DEMO), 'utf8')).tunes;
    if (tune === undefined) throw new Error(`${name} has no tune`);
    const tracks = [
      { version: 'full', bars: 'B1-B2', climbTo: 'steady', times: 7 },
      { version: 'plain', echo: 2 },
    ] as const;
    return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31', tracks });
  });

/** What a track is like as the pack renders it, before encoding. */
const figuresOf = (lesson: Lesson, plan: TrackPlan) => {
  const timeline = timelineOfTrack(lesson, plan);
  const sound = settleLoudness(renderTimeline(timeline, bank));
  const notes = timeline.notes.filter((n) => n.voice === 'fiddle');
  return {
    name: `${lesson.dance.name}, ${plan.title}`,
    loudness: loudnessOf(sound) - TRACK_GOAL.loudness,
    peak: truePeakOf(sound),
    late: lateness(sound, timeline),
    pitches: soundsItsPitch(sound, notes),
    bare: !plan.backing,
  };
};

const at = (value: number, digits = 1): number => Number(value.toFixed(digits));
const share = (marks: readonly boolean[]): number => marks.filter(Boolean).length / Math.max(1, marks.length);

/** The band at its fullest against the fiddle, dry, in each dance. */
const clarityRows = (all: readonly Lesson[]): readonly MeasureRow[] => {
  const stems = all.map((written) => {
    const lesson = {
      ...written,
      settings: {
        ...written.settings,
        band: { players: ['guitar', 'piano', 'bass', 'drum'], pattern: 'other' },
      },
    } as Lesson;
    const plan = trackPlans(lesson, 'default').find((p) => p.slug === 'full-steady-with-backing');
    if (plan === undefined) throw new Error('no such track');
    const timeline = timelineOfTrack(lesson, plan);
    const fiddle = renderTimeline(timeline, bank, { voices: ['fiddle'] });
    const band = renderTimeline(timeline, bank, { voices: ['guitar', 'piano', 'bass', 'drum'] });
    return { fiddle, band, notes: timeline.notes.filter((n) => n.voice === 'fiddle' && n.length > 0.06) };
  });
  const clear = stems.flatMap(clarityOf);
  const bands = bandRatios(stems);
  return [
    {
      what: `fiddle over guitar, piano, bass and drum: ${clear.length} notes that stand 6 dB clear in some octave (share)`,
      ours: at(share(clear.map((dB) => dB >= 6)), 3),
      target: '≥ .99',
      holds: share(clear.map((dB) => dB >= 6)) >= 0.99,
    },
    {
      what: 'the same, the least clear note, dB',
      ours: at(Math.min(...clear)),
      target: 'reported',
      holds: null,
    },
    {
      what: `fiddle over backing by octaves from ${bands.map((b) => b.centre).join(', ')} Hz, dB`,
      ours: bands.map((b) => at(b.over)).join(' · '),
      target: 'reported',
      holds: null,
    },
  ];
};

/** The tracks of every demo lesson by numbers: nothing clipped, empty, late or out of tune. */
export const table = async (): Promise<MeasureTable> => {
  const all = lessons();
  const found = all.flatMap((lesson) => trackPlans(lesson, 'default').map((plan) => figuresOf(lesson, plan)));
  const furthest = Math.max(...found.map((f) => Math.abs(f.loudness)));
  const peak = Math.max(...found.map((f) => f.peak));
  const late = Math.max(...found.flatMap((f) => (f.late === null ? [] : [Math.abs(f.late)])));
  const bare = found.filter((f) => f.bare).flatMap((f) => f.pitches);
  const backed = found.filter((f) => !f.bare).flatMap((f) => f.pitches);
  const joins = joinsOf(all, bank);
  return {
    title: `Tracks of the ${all.length} demo lessons: ${found.length}, a climb and an echo in each lesson among them`,
    command: COMMAND,
    rows: [
      {
        what: 'off −16 LUFS, furthest, LU (an empty track would be infinitely far)',
        ours: at(furthest, 2),
        target: '≤ 0.5',
        holds: furthest <= 0.5,
      },
      {
        what: 'true peak, highest, dBTP (a clipped one would be at 0)',
        ours: at(peak, 2),
        target: '≤ −1',
        holds: peak <= -1,
      },
      {
        what: 'strokes of the fiddle against the timeline, furthest, ms',
        ours: at(late),
        target: '≤ 10',
        holds: late <= 10,
      },
      {
        what: `notes of bare tracks that sound their pitch and no neighbour's (${bare.length}; share)`,
        ours: at(share(bare), 4),
        target: '≥ .995',
        holds: share(bare) >= 0.995,
      },
      {
        what: `the same with backing (${backed.length}; share)`,
        ours: at(share(backed), 4),
        target: 'reported',
        holds: null,
      },
      {
        what: 'sharpest corner where a passage comes round, against inside its notes',
        ours: at(joins, 2),
        target: '≤ 1.5 (clicks: far above)',
        holds: joins <= 1.5,
      },
      ...clarityRows(all),
    ],
  };
};
