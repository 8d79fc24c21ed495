import type { Lesson } from '../lesson.ts';
import { barNotesOf } from './barNotes.ts';
import { type NoteFacts, noteFactsOf } from './noteFacts.ts';
import { type OrnamentSection, ornamentSections } from './ornamentNotes.ts';
import { withOwnNotes } from './ownNotes.ts';
import { partNotes } from './partNotes.ts';
import type { Remark, TeachingNotes } from './remark.ts';
import { TECHNIQUES, type Technique } from './standingWords.ts';
import { type Ranked, tuneNotes } from './tuneNotes.ts';

/** Remarks that a lesson opens with at most. Source: common practice, "eight to ten". */
const MOST_FIRST = 10;

/** Worth of an ornament's section by how often the kind comes. Ours. */
const ornamentWorth = ({ places }: OrnamentSection): number => 6.4 + Math.min(2, places.length * 0.3);

/** The worth of the least remark that is among the first. */
const threshold = (worths: readonly number[]): number =>
  worths.toSorted((a, b) => b - a)[Math.min(MOST_FIRST, worths.length) - 1] ?? 0;

/** Which of all remarks come first: the ten worthiest, of equals the earlier ones. */
const chosen = (worths: readonly number[]): ReadonlySet<number> => {
  const least = threshold(worths);
  const over = worths.flatMap((w, i) => (w > least ? [i] : []));
  const equal = worths.flatMap((w, i) => (w === least ? [i] : []));
  return new Set([...over, ...equal.slice(0, MOST_FIRST - over.length)]);
};

const techniquesIn = (facts: NoteFacts, tune: readonly Ranked[]): readonly Technique[] => {
  const kinds = new Set<Technique>(facts.ornaments.map((o) => o.ornament.kind));
  if (facts.stays.length > 0) kinds.add('stayDown');
  if (tune.some((n) => n.subject === 'bow')) kinds.add('bowing');
  if (tune.some((n) => n.subject === 'swing')) kinds.add('swing');
  return TECHNIQUES.filter((t) => kinds.has(t));
};

/**
 * What a teacher says while pointing at the sheet, from facts alone.
 *
 * Every stated fact stands as data beside its words.
 */
export const teachingNotesOf = (lesson: Lesson, facts: NoteFacts = noteFactsOf(lesson)): TeachingNotes => {
  const tune = tuneNotes(facts);
  const parts = lesson.versions.full.parts.map((part) => ({
    label: part.label,
    notes: partNotes(facts, part),
  }));
  const ornaments = ornamentSections(facts);
  const all: readonly number[] = [
    ...tune.map((n) => n.worth),
    ...parts.flatMap((p) => p.notes.map((n) => n.worth)),
    ...ornaments.map(ornamentWorth),
  ];
  const first = chosen(all);
  let index = 0;
  const remark = ({ subject, saying }: Ranked): Remark => ({
    subject,
    saying,
    first: first.has(index++),
    own: false,
  });
  const notes: TeachingNotes = {
    tune: tune.map(remark),
    parts: parts.map(({ label, notes }) => ({ label, remarks: notes.map(remark) })),
    ornaments: ornaments.map((section) => ({
      ...section,
      first: first.has(index++) || lesson.settings.standing[section.kind] !== undefined,
      own: [],
    })),
    bars: barNotesOf(facts),
    placeless: [],
    techniques: techniquesIn(facts, tune),
  };
  return withOwnNotes(notes, lesson.settings.ownNotes, lesson.versions.plain);
};
