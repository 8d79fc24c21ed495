import {
  bowingOf,
  type FingeringOptions,
  fingeringOf,
  type OrnamentKind,
  ornamentsOf,
  type StringName,
} from '../fiddle/index.ts';
import type { ChordPlan } from '../harmony/index.ts';
import { type Dance, printedName, type TempoStep } from '../music/index.ts';
import type { Band } from '../perform/index.ts';
import { type Address, addressKey, type Bow, type Finger, notesOf, type Score } from '../score/index.ts';
import { CARE_LINE, creditOf, RIGHTS_LINE, sourceOfSetting, summaryOf, titlesOf } from './credits.ts';
import { fingeringOptionsOf } from './handOptions.ts';
import type { LessonVersion } from './ladder.ts';
import { type Lesson, tempoOf } from './lesson.ts';
import { ornamentWords, type TeachingNotes, teachingNotesOf } from './notes/index.ts';
import { type PracticeMaps, practiceMapsOf } from './practiceMaps.ts';
import type { FiddleManner } from './settings.ts';
import { slugOf } from './slug.ts';
import { stayDownsShown } from './stayDowns.ts';
import { dateWords, noteValueName, type Words } from './words.ts';

/** The slowest tempo of the learner's page, in hundredths of up to speed: its notes are the longest. */
export const SLOWEST_PERCENT = 40;

/** What the hands do at one note. */
export interface HandSign {
  /** Key of the note's address. */
  readonly key: string;
  /** "F♯". */
  readonly name: string;
  readonly finger: Finger;
  readonly string: StringName;
  /** The stroke that begins here; null where one goes on. */
  readonly bow: Bow | null;
}

/** An ornament that can be asked about. */
export interface PracticeOrnament {
  /** Where its first event stands. */
  readonly address: Address;
  /** How many events of the bar it covers. */
  readonly events: number;
  readonly kind: OrnamentKind;
  /** "long roll". */
  readonly name: string;
  /** What the hands do, in a sentence. */
  readonly explanation: string;
}

/** What there is to say of one written bar. */
export interface PracticeBarNote {
  readonly part: string;
  /** Index in the part's written bars. */
  readonly bar: number;
  /** "Bar 3". */
  readonly label: string;
  /** Printed; null for a pick-up. */
  readonly number: number | null;
  readonly sentences: readonly string[];
  /** An earlier bar that is the same: "bar 3". */
  readonly sameAs: string | null;
}

/** A finger that had better stay down, from one note to another. */
export interface StaySign {
  /** Keys of the notes' addresses. */
  readonly from: string;
  readonly to: string;
  readonly finger: number;
  /** Laid over two strings. */
  readonly across: boolean;
}

/** A version as the learner has it. */
export interface PracticeVersion {
  readonly id: string;
  /** "The bones". */
  readonly name: string;
  readonly score: Score;
  /** Beats a minute at which it is learnt alone. */
  readonly learn: number;
  readonly hands: readonly HandSign[];
  readonly stays: readonly StaySign[];
  readonly ornaments: readonly PracticeOrnament[];
}

/** All that the learner's page needs to know of a lesson: plain JSON. */
export interface PracticeData {
  /** Names the lesson on the learner's device: the title in safe letters. */
  readonly key: string;
  readonly title: string;
  readonly otherTitles: readonly string[];
  /** "Reel in G major, 16 bars, 32 as played." */
  readonly summary: string;
  readonly credit: string;
  readonly source: string;
  readonly teacher: string;
  readonly story: string;
  /** "25 November 2026". */
  readonly date: string;
  readonly words: Words;
  readonly dance: Dance;
  readonly chords: ChordPlan;
  /** Beats a minute. */
  readonly tempos: Readonly<Record<TempoStep, number>>;
  /** "minim". */
  readonly beat: string;
  /** Long : short of a running pair; null: as the dance asks. */
  readonly swing: number | null;
  /** Who plays the backing, and how the fiddle plays. */
  readonly band: Band;
  readonly fiddle: FiddleManner;
  /** Simplest first; at least one. */
  readonly versions: readonly PracticeVersion[];
  readonly notes: readonly PracticeBarNote[];
  readonly maps: PracticeMaps;
  readonly care: string;
  readonly rights: string;
}

const handsOf = (score: Score, options: FingeringOptions): readonly HandSign[] => {
  const fingers = new Map(fingeringOf(score, options).map((f) => [addressKey(f.address), f]));
  const bows = new Map(bowingOf(score).map((b) => [addressKey(b.address), b]));
  return notesOf(score).flatMap(({ note, address }): HandSign[] => {
    const key = addressKey(address);
    const fingered = fingers.get(key);
    const bowed = bows.get(key);
    if (fingered === undefined) return [];
    return [
      {
        key,
        name: printedName(note.pitches[0]),
        finger: fingered.finger,
        string: fingered.string,
        bow: bowed?.begins === true ? bowed.bow : null,
      },
    ];
  });
};

/** The fingers that stay, as on the sheets. */
const staysOf = (lesson: Lesson, version: LessonVersion): readonly StaySign[] =>
  stayDownsShown(lesson, version).map(({ from, to, finger, kind }) => ({
    from: addressKey(from),
    to: addressKey(to),
    finger,
    across: kind === 'across',
  }));

const ornamentsIn = (score: Score, lesson: Lesson): readonly PracticeOrnament[] => {
  const { names, words } = lesson.settings;
  return ornamentsOf(score).map(({ kind, address, events }): PracticeOrnament => {
    const told = ornamentWords(kind, names, words);
    return { address, events, kind, name: told.name, explanation: `${told.what} ${told.slowly}`.trim() };
  });
};

/** What there is to say of each bar. */
const notesOfBars = ({ bars }: TeachingNotes): readonly PracticeBarNote[] =>
  bars.map(({ part, bar, label, number, sayings, sameAs }) => ({
    ...{ part, bar, label, number, sameAs },
    sentences: sayings.map((s) => s.text),
  }));

/**
 * What the learner's page needs of a lesson. The same lesson gives the same data.
 * @param notes - the lesson's, where somebody has them already
 */
export const practiceDataOf = (
  lesson: Lesson,
  notes: TeachingNotes = teachingNotesOf(lesson),
): PracticeData => {
  const [title = '', ...otherTitles] = titlesOf(lesson);
  const { teacher, story, date, words, swing, band, fiddle } = lesson.settings;
  return {
    key: slugOf(title),
    title,
    otherTitles,
    summary: summaryOf(lesson),
    credit: creditOf(lesson),
    source: sourceOfSetting(lesson),
    teacher,
    story,
    date: dateWords(date, words),
    words,
    dance: lesson.dance,
    chords: lesson.chords,
    tempos: {
      learn: tempoOf(lesson, 'learn', null),
      steady: tempoOf(lesson, 'steady', null),
      upToSpeed: tempoOf(lesson, 'upToSpeed', null),
    },
    beat: noteValueName(lesson.dance.beat, words),
    swing,
    band,
    fiddle,
    versions: lesson.ladder.map((version) => ({
      id: version.id,
      name: version.name,
      score: version.score,
      learn: tempoOf(lesson, 'learn', version.kind),
      hands: handsOf(version.score, fingeringOptionsOf(lesson.settings)),
      stays: staysOf(lesson, version),
      ornaments: ornamentsIn(version.score, lesson),
    })),
    notes: notesOfBars(notes),
    maps: practiceMapsOf(lesson),
    care: CARE_LINE,
    rights: RIGHTS_LINE,
  };
};

/** Beats a minute at which versions are learnt: one alone at its own tempo, several together at the lesson's. */
export const learnTempoOf = (
  { versions, tempos }: Pick<PracticeData, 'versions' | 'tempos'>,
  heard: readonly string[],
): number => {
  const [only, ...others] = versions.filter(({ id }) => heard.includes(id));
  return only === undefined || others.length > 0 ? tempos.learn : only.learn;
};

/** A tempo in whole hundredths of up to speed, not under the slowest that is played. */
export const percentAt = ({ tempos }: Pick<PracticeData, 'tempos'>, beatsPerMinute: number): number =>
  Math.max(SLOWEST_PERCENT, Math.round((100 * beatsPerMinute) / tempos.upToSpeed));
