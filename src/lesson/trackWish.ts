import type { TempoStep } from '../music/index.ts';
import type { BarPlace, Passage } from '../perform/index.ts';
import type { Score } from '../score/index.ts';
import type { VersionId } from './versionChoice.ts';

/** A tempo: beats a minute in the dance's beat, or one of the lesson's steps. */
export type TempoWish = number | TempoStep;

/** A track that a teacher wants beside the usual ones. What is left out takes its default. */
export interface TrackWish {
  /** What the fiddle plays; `none`: backing alone; left out: the fullest version. */
  readonly version?: VersionId | 'none' | undefined;
  /** Default: with backing. */
  readonly backing?: boolean | undefined;
  /** Clicks on every beat; default none. */
  readonly click?: boolean | undefined;
  /** Default: `steady`; `learn` for an echo or a climb. */
  readonly tempo?: TempoWish | undefined;
  /** Gradually faster, as far as this tempo, with one slow pass to finish. */
  readonly climbTo?: TempoWish | undefined;
  /** Printed bar numbers, "5-8", or counted in a part, "B1-B4": only these bars, over and over. */
  readonly bars?: string | undefined;
  /** So many bars are played, and the same bars left to the learner. */
  readonly echo?: number | undefined;
  /** Times through; default: the lesson's, 8 of a passage, 1 with echo; of a climb the most. */
  readonly times?: number | undefined;
}

/** A recording of the teacher's own, in the place of a track or beside them. */
export interface OwnRecording {
  /** Path of the sound file; in lesson.json from the lesson's folder. */
  readonly file: string;
  /** The number of the track that it takes the place of; left out: a track of its own after all others. */
  readonly track?: number | undefined;
  /** What it is called where it is a track of its own. */
  readonly title?: string | undefined;
}

const RANGE = /^\s*([A-Za-z]*)\s*(\d+)\s*(?:[-–]\s*([A-Za-z]*)\s*(\d+)\s*)?$/;

/** The bar with a printed number, or the n-th numbered bar of a part. */
const placeOf = (score: Score, part: string, number: number): BarPlace | null => {
  for (const { label, bars } of score.parts) {
    if (part !== '' && label.toUpperCase() !== part.toUpperCase()) continue;
    let count = 0;
    for (const [bar, { number: printed }] of bars.entries()) {
      if (printed === null) continue;
      count += 1;
      if (number === (part === '' ? printed : count)) return { part: label, bar };
    }
  }
  return null;
};

/**
 * Which bars a teacher means by "5-8", "B1-B4" or "7".
 * @returns null when there are no such bars, or they go backwards
 */
export const passageOf = (score: Score, text: string): Passage | null => {
  const [, part = '', first, lastPart = '', last = first] = RANGE.exec(text) ?? [];
  if (first === undefined) return null;
  const from = placeOf(score, part, Number(first));
  const to = placeOf(score, lastPart === '' ? part : lastPart, Number(last));
  if (from === null || to === null) return null;
  const order = score.parts.flatMap((p) => p.bars.map((_, bar) => `${p.label}/${bar}`));
  const at = (place: BarPlace): number => order.indexOf(`${place.part}/${place.bar}`);
  return at(from) <= at(to) ? { from, to } : null;
};

/** Each tempo of a climb is above the one before by so many percent, and played so many times. Common practice: 2–3 %, twice. */
const CLIMB = { percent: 2.5, every: 2 } as const;

/**
 * The tempi of a climb, one for each time through: each twice, then once more the first, slowly, to finish.
 * @param most - times through at most, the slow one included: a climb that would take more ends lower
 * @example climbTempos(60, 63, 9) // [60, 60, 61.5, 61.5, 63, 63, 60]
 */
export const climbTempos = (from: number, to: number, most: number): readonly [number, ...number[]] => {
  const tempos: number[] = [];
  const step = 1 + CLIMB.percent / 100;
  for (let tempo = from; tempos.length + CLIMB.every < most; tempo = Math.min(to, tempo * step)) {
    const rounded = Math.round(tempo * 10) / 10;
    for (let n = 0; n < CLIMB.every; n += 1) tempos.push(rounded);
    if (tempo >= to) break;
  }
  return [tempos[0] ?? from, ...tempos.slice(1), from];
};
