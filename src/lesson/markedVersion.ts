import {
  bowingOf,
  fingeringOf,
  handMarksOf,
  type StayDown,
  type StringName,
  stayDownMark,
  withHandMarks,
} from '../fiddle/index.ts';
import { addressKey, type Bow, type Score } from '../score/index.ts';
import { fingeringOptionsOf } from './handOptions.ts';
import type { LessonVersion } from './ladder.ts';
import type { Lesson } from './lesson.ts';
import type { LessonSettings } from './settings.ts';
import { stayDownsAsked, stayDownsShown } from './stayDowns.ts';

/** A version with the fingers and bows that its sheet shows. */
export interface MarkedVersion {
  readonly score: Score;
  /** By `addressKey` of a note that bears a second finger: which one. Empty where the tune has one kind. */
  readonly seconds: ReadonlyMap<string, 'low' | 'high'>;
  /** By `addressKey` of a note or a tone beside it: the string it lies on, 1 for the highest. Empty without marks. */
  readonly strings: ReadonlyMap<string, number>;
  /** Fingers that stay down, to be shown as brackets. */
  readonly stayDowns: readonly StayDown[];
  /** By `addressKey` of the note where a stroke begins: its direction, for the starts of lines. Empty without marks. */
  readonly bows: ReadonlyMap<string, Bow>;
}

/** Strings as they are counted in print. Common practice: the highest is the first. */
const STRING_NUMBERS: Readonly<Record<StringName, number>> = { E: 1, A: 2, D: 3, G: 4 };

/** Whether a sheet says of itself which fingers stay down; what the teacher asked for stands there anyway. */
const showsStayDowns = ({ stayDowns }: LessonSettings, { kind }: LessonVersion): boolean =>
  stayDowns === 'all' || (stayDowns === 'bones' && kind === 'bones');

/** A version as its sheet shows it: what is written, and the marks that the settings ask for. */
export const markedVersion = (lesson: Lesson, version: LessonVersion): MarkedVersion => {
  const { settings } = lesson;
  const { score } = version;
  const options = fingeringOptionsOf(settings);
  if (settings.marks === 'none')
    return { score, seconds: new Map(), strings: new Map(), stayDowns: [], bows: new Map() };
  const bowing = bowingOf(score);
  const fingering = fingeringOf(score, options);
  const marks = handMarksOf(score, { ...options, level: settings.marks, bowing, fingering });
  const stayDowns = showsStayDowns(settings, version)
    ? stayDownsShown(lesson, version, fingering)
    : stayDownsAsked(lesson, version, fingering);
  const fingers = [...marks.fingers, ...stayDowns.map(stayDownMark)];
  return {
    score: withHandMarks(score, { ...marks, fingers }),
    seconds: new Map(
      marks.fingers.flatMap(({ address, second }) =>
        second === null ? [] : [[addressKey(address), second] as const],
      ),
    ),
    strings: new Map(fingering.map((f) => [addressKey(f.address), STRING_NUMBERS[f.string]])),
    stayDowns,
    bows: new Map(bowing.filter((n) => n.begins).map((n) => [addressKey(n.address), n.bow])),
  };
};
