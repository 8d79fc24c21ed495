import type { Address } from '../../score/index.ts';
import { titlesOf } from '../credits.ts';
import type { Lesson } from '../lesson.ts';
import { joined, listOfBars } from '../words.ts';
import { noteFactsOf } from './noteFacts.ts';
import { ornamentWords } from './ornamentWords.ts';
import { ORNAMENT_KINDS, TECHNIQUES, type Technique } from './standingWords.ts';
import { teachingNotesOf } from './teachingNotes.ts';

/** A lesson as a shelf has it. */
export interface NamedLesson {
  /** Its folder's name. */
  readonly name: string;
  readonly lesson: Lesson;
}

/** What one lesson has of a technique. */
export interface TechniqueInLesson {
  /** The lesson's name, and its tune's title. */
  readonly name: string;
  readonly title: string;
  /** Where it comes in the full version, in order; empty where it goes through the whole tune (bowing, swing). */
  readonly places: readonly Address[];
  /** "bars 1 and 5", "the pick-up of part B"; empty where there are no places. */
  readonly where: string;
}

/** A technique and the lessons that have it. */
export interface TechniqueEntry {
  readonly technique: Technique;
  /** "long rolls", "fingers that stay down". */
  readonly name: string;
  /** In the order in which the lessons were given; empty: none has it. */
  readonly lessons: readonly TechniqueInLesson[];
}

const OTHER_NAMES: Readonly<Partial<Record<Technique, string>>> = {
  stayDown: 'fingers that stay down',
  bowing: 'bowing',
  swing: 'swing',
};

const nameOf = (technique: Technique, lesson: Lesson | undefined): string => {
  const kind = ORNAMENT_KINDS.find((one) => one === technique);
  if (kind === undefined || lesson === undefined) return OTHER_NAMES[technique] ?? technique;
  return ornamentWords(kind, lesson.settings.names, lesson.settings.words).names;
};

/** The bars in which places lie, by their printed numbers; the rest of a split bar by the number of its beginning. */
const whereOf = ({ versions, settings }: Lesson, places: readonly Address[]): string => {
  const numbers: string[] = [];
  const pickups: string[] = [];
  for (const { part, bar } of places) {
    const bars = versions.full.parts.find(({ label }) => label === part)?.bars ?? [];
    const own = bars[bar];
    const number =
      own?.role === 'pickup' ? null : bars.slice(0, bar + 1).findLast((b) => b.number !== null)?.number;
    if (number == null) pickups.push(`the pick-up of part ${part}`);
    else numbers.push(`${number}`);
  }
  const said = [...new Set(numbers)];
  return joined([...(said.length === 0 ? [] : [listOfBars(said, settings.words)]), ...new Set(pickups)]);
};

const inLesson = ({ name, lesson }: NamedLesson): ReadonlyMap<Technique, TechniqueInLesson> => {
  const facts = noteFactsOf(lesson);
  const notes = teachingNotesOf(lesson, facts);
  const placesOf = (technique: Technique): readonly Address[] =>
    technique === 'stayDown'
      ? facts.stays.map(({ from }) => from)
      : (notes.ornaments.find(({ kind }) => kind === technique)?.places ?? []);
  const title = titlesOf(lesson)[0] ?? '';
  return new Map(
    notes.techniques.map((technique) => {
      const places = placesOf(technique);
      return [technique, { name, title, places, where: whereOf(lesson, places) }] as const;
    }),
  );
};

/**
 * Which lesson teaches which technique, and in which bars?
 *
 * Every kind of ornament, fingers that stay down, bowing and swing, as the teaching notes find them.
 * @param lessons - in the order in which they are to be listed: those that come first teach it first
 * @returns all techniques in their usual order, also those that no lesson has
 */
export const techniqueIndexOf = (lessons: readonly NamedLesson[]): readonly TechniqueEntry[] => {
  const found = lessons.map(inLesson);
  return TECHNIQUES.map((technique) => ({
    technique,
    name: nameOf(technique, lessons[0]?.lesson),
    lessons: found.flatMap((techniques) => techniques.get(technique) ?? []),
  }));
};
