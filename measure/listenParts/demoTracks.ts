import { readdirSync, readFileSync } from 'node:fs';
import { type Bank, renderTimeline } from '../../src/audio/index.ts';
import { hertz, toNumber } from '../../src/core/index.ts';
import {
  DEFAULT_SETTINGS,
  type Lesson,
  lessonOf,
  type TrackPlan,
  timelineOfTrack,
  trackPlans,
} from '../../src/lesson/index.ts';
import { type Heard, hear, type Listening, understood } from '../../src/listen/index.ts';
import { decodeSound, encodeMp3 } from '../../src/media/index.ts';
import { readAbc } from '../../src/notation/index.ts';
import type { Timeline } from '../../src/perform/index.ts';
import { settleLoudness } from '../../src/signal/index.ts';

/** What listening makes of one track of a demo lesson's pack, against the track's timeline. */
export interface HeardTrack {
  readonly name: string;
  readonly backing: boolean;
  /** Cents; tracks are at A = 440 Hz. Infinity where no tuning is told. */
  readonly tuningError: number;
  /** Shares by which the tempo is off, the tune given and not. Infinity where none is told. */
  readonly tempoError: number;
  readonly tempoErrorByEar: number;
  /** Long : short, the tune given; null in compound time and where fewer than eight pairs are played. */
  readonly swingError: number | null;
  /** Seconds by which each bar's beginning is off, the tune given; infinity where the bar isn't found. */
  readonly barErrors: readonly number[];
  /** Bars that are told where none is played: in the count-in, say. */
  readonly barsTooMany: number;
}

/** Pairs of quavers from which a track's own swing is told. */
const LEAST_PAIRS = 8;

/** The middle long : short of a timeline's pairs of quavers; null with too few. */
const playedSwing = ({ notes }: Timeline): number | null => {
  const starts = new Map<string, number>();
  for (const n of notes)
    if (n.voice === 'fiddle' && n.beside !== true && n.address !== undefined) {
      const { part, bar, onset } = n.address;
      const key = `${n.pass}/${part}/${bar}/${8 * toNumber(onset)}`;
      starts.set(key, Math.min(n.start, starts.get(key) ?? Infinity));
    }
  const ratios = [...starts].flatMap(([key, start]) => {
    const [where, quaver] = [key.slice(0, key.lastIndexOf('/')), Number(key.slice(key.lastIndexOf('/') + 1))];
    const [off, next] = [starts.get(`${where}/${quaver + 1}`), starts.get(`${where}/${quaver + 2}`)];
    return quaver % 2 !== 0 || off === undefined || next === undefined ? [] : [(off - start) / (next - off)];
  });
  return ratios.length < LEAST_PAIRS ? null : (ratios.sort((a, b) => a - b)[ratios.length >> 1] as number);
};

const tempoErrorOf = ({ tempo }: Listening, lesson: Lesson, plan: TrackPlan): number => {
  const asked = plan.tempos[0] * toNumber(lesson.dance.beat);
  return tempo === null ? Infinity : Math.abs((tempo.beatsPerMinute * toNumber(tempo.beat)) / asked - 1);
};

/** Bars told and bars played are the same ones within this, seconds, when those too many are counted. */
const SAME_BAR = 0.25;

/** Compares what is heard in a track with what is played in it. */
const comparedTrack = (heard: Heard, lesson: Lesson, plan: TrackPlan): HeardTrack => {
  const timeline = timelineOfTrack(lesson, plan);
  const rate = hertz(44_100);
  const known = understood(heard, rate, { score: lesson.written });
  const swing = toNumber(lesson.dance.beat) * 8 === 3 ? null : playedSwing(timeline);
  const played = timeline.bars.filter((b) => b.number !== undefined).map((b) => b.start);
  const told = known.bars.filter((b) => b.number !== null).map((b) => b.start);
  const nearest = (all: readonly number[], to: number): number =>
    Math.min(Infinity, ...all.map((x) => Math.abs(x - to)));
  return {
    name: `${lesson.dance.name}, ${plan.title}`,
    backing: plan.backing,
    tuningError: Math.abs(heard.tuning?.cents ?? Infinity),
    tempoError: tempoErrorOf(known, lesson, plan),
    tempoErrorByEar: tempoErrorOf(understood(heard, rate), lesson, plan),
    swingError: swing === null ? null : Math.abs((known.swing?.ratio ?? Infinity) - swing),
    barErrors: played.map((start) => nearest(told, start)),
    barsTooMany: told.filter((start) => nearest(played, start) > SAME_BAR).length,
  };
};

/** Renders a track as the pack does, to MP3 and back, and hears it. */
const heardTrack = async (lesson: Lesson, plan: TrackPlan, bank: Bank): Promise<Heard> => {
  const sound = settleLoudness(renderTimeline(timelineOfTrack(lesson, plan), bank));
  const file = await encodeMp3(sound, { title: plan.title, artist: 'demo' });
  const back = await decodeSound(file, { channels: 'mixed' });
  if (back.kind === 'problem') throw new Error(back.message);
  return hear(back.channels[0] ?? new Float32Array(0), back.rate);
};

/**
 * Listens to the tracks with a fiddle of every demo lesson's usual pack.
 * @param root - folder of the project
 * @param wanted - which tracks, by their lesson's folder and slug; all unless said
 */
export const heardTracks = async (
  root: URL,
  bank: Bank,
  wanted: (lesson: string, slug: string) => boolean = () => true,
): Promise<readonly HeardTrack[]> => {
  const demo = new URL('demo/lessons/', root);
  const found: HeardTrack[] = [];
  for (const name of readdirSync(demo)) {
    const [tune] = readAbc(readFileSync(new URL(`${name}/tune.abc`, demo), 'utf8')).tunes;
    if (tune === undefined) throw new Error(`${name} has no tune`);
    const lesson = lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31' });
    for (const plan of trackPlans(lesson, 'default').filter(
      (p) => p.version !== null && wanted(name, p.slug),
    ))
      found.push(comparedTrack(await heardTrack(lesson, plan, bank), lesson, plan));
  }
  return found;
};
