import { foldWords, likeness } from './foldWords.ts';
import type { LessonFacts } from './lessonFacts.ts';
import { stepsOf, typedNotes } from './typedNotes.ts';

/** Where a word of a lesson stands. */
type Field = 'title' | 'otherTitle' | 'dance' | 'key' | 'technique';

/** What a word is worth by where it stands: a title is what people look for. Ours. */
const WORTH: Readonly<Record<Field, number>> = {
  title: 10,
  otherTitle: 8,
  dance: 5,
  key: 5,
  technique: 4,
};
/** Worth of a tune that was found by its notes, above all words: nobody types notes by chance. Ours. */
const NOTES_WORTH = 30;

/** What each further way to read typed notes is worth less. Ours. */
const LESS_LIKELY = 0.05;

/** One word of one lesson. */
interface Place {
  readonly lesson: number;
  readonly field: Field;
  /** What it stands in, as it is shown. */
  readonly shown: string;
}

/** A lesson to be searched. */
export interface Searchable {
  readonly id: string;
  readonly facts: LessonFacts;
  /** Milliseconds since 1970. */
  readonly changed: number;
}

/** Everything that is looked up when somebody searches, made once for a state of the shelf. */
export interface SearchIndex {
  readonly lessons: readonly Searchable[];
  readonly words: ReadonlyMap<string, readonly Place[]>;
  /** Steps from note to note, lesson by lesson. */
  readonly steps: readonly string[];
}

/** A lesson that was found, and why where that is not its title. */
export interface Found {
  readonly id: string;
  readonly why: string;
}

/** What players call ornaments beside the program's words. Common practice, see docs/glossary.md. */
const OTHER_NAMES: Readonly<Record<string, string>> = {
  treble: 'birl shiver bowed triplet',
  cut: 'grace note',
  strike: 'lower grace note',
};

/** "long roll" for longRoll. */
const techniqueName = (kind: string): string =>
  kind.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);

const fieldsOf = (facts: LessonFacts): readonly (readonly [Field, string, string])[] => [
  ['title', facts.title, ''],
  ...facts.otherTitles.map((title) => ['otherTitle', title, title] as const),
  ['dance', facts.dance, facts.dance],
  ['key', facts.key, facts.key],
  ...facts.techniques.map((kind) => {
    const name = techniqueName(kind);
    return ['technique', `${name} ${OTHER_NAMES[kind] ?? ''}`, name] as const;
  }),
];

/** What is looked up in one lesson. */
interface Lookup {
  /** Its folded words, where they stand and in what. */
  readonly words: readonly (readonly [string, Field, string])[];
  readonly steps: string;
}

/** What was worked out for facts that have not changed since: after a save only one lesson is new. */
const lookups = new WeakMap<LessonFacts, Lookup>();

const lookupOf = (facts: LessonFacts): Lookup => {
  const known = lookups.get(facts);
  if (known !== undefined) return known;
  const words = fieldsOf(facts).flatMap(([field, text, shown]) =>
    foldWords(text).map((word) => [word, field, shown] as const),
  );
  const made = { words, steps: stepsOf(facts.notes) };
  lookups.set(facts, made);
  return made;
};

/** Makes the index of a state of the shelf. */
export const searchIndexOf = (lessons: readonly Searchable[]): SearchIndex => {
  const words = new Map<string, Place[]>();
  const steps = lessons.map(({ facts }, lesson) => {
    const lookup = lookupOf(facts);
    for (const [word, field, shown] of lookup.words) {
      const places = words.get(word);
      if (places === undefined) words.set(word, [{ lesson, field, shown }]);
      else places.push({ lesson, field, shown });
    }
    return lookup.steps;
  });
  return { lessons, words, steps };
};

interface Hit {
  readonly worth: number;
  readonly why: string;
}

/**
 * Lessons that have a word like this one, each with its best place.
 * @param typing - it is the last word: a single letter may be the beginning of one
 */
const hitsOf = (typed: string, typing: boolean, { words }: SearchIndex): ReadonlyMap<number, Hit> => {
  const hits = new Map<number, Hit>();
  const whole = typed.length === 1 && !typing;
  for (const [word, places] of words) {
    const like = whole ? Number(word === typed) : likeness(typed, word);
    if (like === 0) continue;
    for (const { lesson, field, shown } of places) {
      const worth = like * WORTH[field];
      if (worth > (hits.get(lesson)?.worth ?? 0)) hits.set(lesson, { worth, why: shown });
    }
  }
  return hits;
};

/** Lessons that have all the words. */
const byWords = (typed: string, index: SearchIndex): Map<number, Hit> => {
  const [first, ...others] = foldWords(typed);
  if (first === undefined) return new Map();
  const found = new Map(hitsOf(first, others.length === 0, index));
  for (const [place, word] of others.entries()) {
    const hits = hitsOf(word, place === others.length - 1, index);
    for (const [lesson, hit] of found) {
      const also = hits.get(lesson);
      if (also === undefined) found.delete(lesson);
      else {
        const why = [...new Set([hit.why, also.why])].filter((reason) => reason !== '').join(', ');
        found.set(lesson, { worth: hit.worth + also.worth, why });
      }
    }
  }
  return found;
};

/** Lessons that have the notes, in any key. */
const byNotes = (typed: string, { lessons, steps }: SearchIndex): ReadonlyMap<number, Hit> => {
  const patterns = typedNotes(typed);
  const hits = new Map<number, Hit>();
  if (patterns.length === 0) return hits;
  steps.forEach((own, lesson) => {
    for (const [place, pattern] of patterns.entries()) {
      const at = own.indexOf(pattern.steps);
      if (at === -1) continue;
      const { notes, key } = lessons[lesson]?.facts ?? { notes: [], key: '' };
      const same = pattern.first.has((notes[at] ?? 0) % 12);
      const worth = NOTES_WORTH + (same ? 2 : 0) + (at === 0 ? 1 : 0) - LESS_LIKELY * place;
      if (worth > (hits.get(lesson)?.worth ?? 0))
        hits.set(lesson, { worth, why: same ? 'These notes' : `These notes, in ${key}` });
    }
  });
  return hits;
};

/**
 * Finds lessons by title, other titles, dance, key, ornaments, or by notes.
 *
 * Accents, case and one wrong letter in a word of four or more do not matter.
 * @returns best first; without words all of them, the last changed first
 */
export const searchLessons = (typed: string, index: SearchIndex): readonly Found[] => {
  const { lessons } = index;
  const changed = (lesson: number): number => lessons[lesson]?.changed ?? 0;
  if (foldWords(typed).length === 0)
    return lessons.toSorted((a, b) => b.changed - a.changed).map(({ id }) => ({ id, why: '' }));
  const found = byWords(typed, index);
  for (const [lesson, hit] of byNotes(typed, index))
    if (hit.worth > (found.get(lesson)?.worth ?? 0)) found.set(lesson, hit);
  return [...found]
    .sort(([a, one], [b, other]) => other.worth - one.worth || changed(b) - changed(a))
    .flatMap(([lesson, { why }]) => {
      const id = lessons[lesson]?.id;
      return id === undefined ? [] : [{ id, why }];
    });
};
