import { type Rational, rational, subtract, toNumber, type WholeNotes, wholeNotes } from '../core/index.ts';
import { type Turn, turnChordOf } from '../harmony/index.ts';
import { fullestOf, type Lesson, type LessonVersion, tempoOf, titlesOf, versionOf } from '../lesson/index.ts';
import {
  barLengthOf,
  type Chord,
  formatChord,
  isCompound,
  notatedBeatOf,
  readChord,
} from '../music/index.ts';
import { type Seam, seamOf } from '../perform/index.ts';
import { SET_LENGTH, type SetPlan, type SetPlanTune } from './setPlan.ts';

/** The chord of a corner; `asked`: the teacher's own choice. */
export type CornerChord = Omit<Turn, 'kind'> & { readonly kind: Turn['kind'] | 'asked' };

/** Where one tune goes over into the next. */
export interface Corner {
  readonly seam: Seam;
  /** Null: the last chord of the tune before goes on. */
  readonly turn: CornerChord | null;
  /** It is the chord that sounds already. */
  readonly goesOn: boolean;
  /** The chord that it leads to; null without chords. */
  readonly target: Chord | null;
}

/** The tempo steps that a set is played at. */
export type SetStep = 'steady' | 'upToSpeed';

/** One tune of a set. */
export interface TuneInSet {
  readonly lesson: Lesson;
  /** What is printed and played. */
  readonly version: LessonVersion;
  readonly times: number;
  /** Beats a minute, in its dance's beat. */
  readonly tempos: Readonly<Record<SetStep, number>>;
  /** Into the tune after it; null at the end. */
  readonly corner: Corner | null;
}

/** Two to four tunes that are played in a row. */
export interface TuneSet {
  readonly title: string;
  readonly tunes: readonly [TuneInSet, ...TuneInSet[]];
  /** Whose settings (teacher, date, papers, words …) hold for all of it: the first lesson's. */
  readonly settings: Lesson['settings'];
}

/** Nothing shorter than a crotchet turns a corner. Ours. */
const SHORTEST_TURN = 1 / 4;

/** Places for the turning chord: on beats of the last bar, half a bar before its end at most. */
const placesIn = ({ bar, length }: Seam): readonly WholeNotes[] => {
  const full = barLengthOf(bar.metre) ?? length;
  const beat = isCompound(bar.metre) ? notatedBeatOf(bar.metre) : rational(1, 4);
  const places: WholeNotes[] = [];
  for (let at: Rational = beat; toNumber(at) <= toNumber(full) / 2; ) {
    if (toNumber(at) >= SHORTEST_TURN) places.push(wholeNotes(at.num, at.den));
    at = rational(at.num * beat.den + beat.num * at.den, at.den * beat.den);
  }
  return places.length > 0 ? places : [wholeNotes(beat.num, beat.den)];
};

const askedTurn = (text: string | null, places: readonly WholeNotes[]): CornerChord | null => {
  const chord = text === null ? null : readChord(text);
  const before = places.at(-1);
  return chord === null || before === undefined ? null : { kind: 'asked', chord, before };
};

/** A lesson with the version that is played of it. */
interface Chosen {
  readonly lesson: Lesson;
  readonly version: LessonVersion;
}

/** The chord of the tune itself in its last bar. */
const lastChord = ({ chords }: Lesson, { part, index }: Seam): Chord | null =>
  chords.findLast((planned) => planned.part === part && planned.bar <= index)?.chord ?? null;

const isSame = (a: Chord, b: Chord): boolean => formatChord(a) === formatChord(b);

const cornerOf = ({ lesson, version }: Chosen, next: Chosen, asked: string | null): Corner | null => {
  const seam = seamOf(version.score, next.version.score);
  if (seam === null) return null;
  const places = placesIn(seam);
  const target = next.lesson.chords[0]?.chord ?? null;
  const sounding = seam.events.flatMap(({ event, onset, length }) =>
    event.kind === 'rest'
      ? []
      : [{ before: subtract(seam.length, onset) as WholeNotes, length, pitches: event.pitches }],
  );
  const found =
    target === null ? null : turnChordOf({ key: next.version.score.key, first: target, sounding, places });
  const turn = askedTurn(asked, places) ?? found;
  const sounds = lastChord(lesson, seam);
  return { seam, turn, goesOn: turn !== null && sounds !== null && isSame(turn.chord, sounds), target };
};

/** A tempo given for one step moves the other one in the same measure. */
const temposOf = (lesson: Lesson, { kind }: LessonVersion, given: SetPlanTune): TuneInSet['tempos'] => {
  const usual = {
    steady: tempoOf(lesson, 'steady', kind),
    upToSpeed: tempoOf(lesson, 'upToSpeed', kind),
  };
  const { steady, upToSpeed } = given.tempos;
  if (upToSpeed !== undefined)
    return { steady: steady ?? Math.round((usual.steady * upToSpeed) / usual.upToSpeed), upToSpeed };
  return { steady: steady ?? usual.steady, upToSpeed: Math.max(usual.upToSpeed, steady ?? 0) };
};

/**
 * A set: lessons in the order of playing, how each goes over into the next, and how fast.
 * @param lessons - two to four
 * @throws RangeError when `setProblems` finds something wrong, or the plan has not one tune for each lesson
 */
export const setOf = (lessons: readonly Lesson[], plan: SetPlan): TuneSet => {
  if (
    lessons.length < SET_LENGTH.least ||
    lessons.length > SET_LENGTH.most ||
    plan.tunes.length !== lessons.length
  )
    throw new RangeError(`setOf: ${lessons.length} lessons and ${plan.tunes.length} tunes of a plan`);
  const chosen = lessons.flatMap((lesson, i) => {
    const tune = plan.tunes[i];
    const version = plan.version === null ? fullestOf(lesson) : versionOf(lesson, plan.version);
    return tune === undefined ? [] : [{ lesson, version, tune }];
  });
  const [first, ...others] = chosen.map(({ lesson, version, tune }, i): TuneInSet => {
    const next = chosen[i + 1];
    return {
      lesson,
      version,
      times: tune.times,
      tempos: temposOf(lesson, version, tune),
      corner: next === undefined ? null : cornerOf({ lesson, version }, next, tune.turn),
    };
  });
  if (first === undefined) throw new RangeError('setOf: no tunes');
  return {
    title:
      plan.title.trim() === '' ? lessons.map((lesson) => titlesOf(lesson)[0] ?? '').join(' · ') : plan.title,
    tunes: [first, ...others],
    settings: first.lesson.settings,
  };
};
