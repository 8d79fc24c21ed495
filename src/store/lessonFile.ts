import { z } from 'zod';
import { placeFinder } from '../core/index.ts';
import {
  DEFAULT_SETTINGS,
  LADDER_LENGTH,
  type LessonSettings,
  ladderProblem,
  type OwnNote,
  SOUND_FORMATS,
  type VersionChoice,
} from '../lesson/index.ts';
import { TEMPO_STEPS } from '../music/index.ts';
import { PLAYERS } from '../perform/index.ts';
import { DENSITIES, SITE_KINDS } from '../versions/index.ts';
import { HAND_FIELDS } from './handFields.ts';
import { ownNote } from './ownNoteForm.ts';

/** The version of lesson.json that this program writes. */
const LESSON_VERSION = 1;

const LONGEST_STORY = 50_000;
const LONGEST_NAME = 60;
const tempo = z.number().min(10).max(400);
const tempoWish = z.union([tempo, z.enum(TEMPO_STEPS)]);

/** A track beside the usual ones. */
const trackWish = z
  .strictObject({
    version: z
      .string()
      .min(1)
      .max(LONGEST_NAME)
      .describe(
        'What the fiddle plays, like "plain" or "bonesFuller"; "none": backing alone; left out: the fullest.',
      )
      .optional(),
    backing: z.boolean().describe('With backing; left out: yes.').optional(),
    click: z.boolean().describe('A click on every beat; left out: none.').optional(),
    tempo: tempoWish.describe("Beats a minute in the dance's beat, or a step; left out: steady.").optional(),
    climbTo: tempoWish
      .describe('Gradually faster, up to this tempo, with one slow pass to finish.')
      .optional(),
    bars: z
      .string()
      .max(40)
      .describe('Only these, over and over: printed numbers, "5-8", or counted in a part, "B1-B4".')
      .optional(),
    echo: z.int().min(1).max(16).describe('So many bars are played and then left to the learner.').optional(),
    times: z.int().min(1).max(99).describe('Times through.').optional(),
  })
  .describe('A track beside the usual ones.');

const recording = z
  .strictObject({
    file: z.string().min(1).max(500).describe("Path from the lesson's folder."),
    track: z
      .int()
      .min(1)
      .max(99)
      .describe('The track whose place it takes; left out: one more track.')
      .optional(),
    title: z.string().min(1).max(200).describe('What it is called where it is one more track.').optional(),
  })
  .describe("A recording of the teacher's own.");

const density = z.enum(DENSITIES);
const plainSwitches = z
  .strictObject({
    ornaments: z.enum(['none', 'main']),
    longRoll: z.enum(['held', 'crotchetAndQuaver']),
    runTriplet: z.enum(['twoNotes', 'stays']),
    cutBetweenSlurred: z.enum(['newStroke', 'joined']),
  })
  .partial();
const versionName = z.string().min(1).max(LONGEST_NAME).optional();

/** One version of the list. */
const versionChoice = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('bones'), name: versionName, density: density.optional() }),
  plainSwitches.extend({ kind: z.literal('plain'), name: versionName }),
  z.strictObject({ kind: z.literal('full'), name: versionName }),
]);

const length = z.string().regex(/^[1-9]\d{0,3}(\/[1-9]\d{0,4})?$/);
const fingerprint = z.string().max(2000);
const label = z.string().min(1).max(60);
const index = z.int().min(0);
const tuplet = z.strictObject({
  actual: z.int().min(1),
  normal: z.int().min(1),
  index,
  count: z.int().min(1),
});
const finger = z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3), z.literal(4)]);

/** A note or rest of a kept bar. */
const keptEvent = z.union([
  z.strictObject({
    pitches: z
      .array(z.string().regex(/^[A-G](##|bb|#|b)?[0-9]$/))
      .min(1)
      .max(4)
      .describe('Like "F#5", the melody first.'),
    length: length.describe('In whole notes, like "3/8".'),
    tied: z.boolean().optional(),
    tuplet: tuplet.optional(),
    bow: z.enum(['down', 'up']).optional(),
    fingers: z.array(finger).optional(),
    slurs: z.strictObject({ opens: index, closes: index }).optional(),
  }),
  z.strictObject({ rest: length.describe('In whole notes, like "1/4".'), tuplet: tuplet.optional() }),
]);

/** By what a bar is found again. */
const anchor = z
  .strictObject({
    part: label.describe("The part's label."),
    bar: index.describe("Place among the part's written bars, pick-up included, from 0."),
    plain: fingerprint.describe('What the bar sounds like in "all the notes".'),
  })
  .describe('The bar that this belongs to; it is found again when the tune has changed.');

const keptBar = z.strictObject({
  version: z.string().max(40).describe('The version of the lesson: "bones".'),
  anchor,
  keptFor: fingerprint
    .describe('What the bar sounded like when this was kept, where it has changed since.')
    .optional(),
  everywhere: z.boolean().describe('Holds for all bars that sound the same in "all the notes".').optional(),
  events: z.array(keptEvent).min(1).max(200).describe('Its notes and rests in order.'),
});

/** An accepted ornament, as `versions --suggest` prints it. */
const acceptedOrnament = z.strictObject({
  anchor,
  onset: z
    .string()
    .regex(/^(0|[1-9]\d{0,3}(\/[1-9]\d{0,4})?)$/)
    .describe('Where in the bar its first note begins, in whole notes, like "3/8".'),
  kind: z.enum(SITE_KINDS),
});
/** The form of lesson.json. Fields left out take their defaults. Title, key and credit live in tune.abc. */
const lessonFile = z
  .strictObject({
    $schema: z.string().optional(),
    format: z.literal('tuneladder-lesson'),
    version: z.literal(LESSON_VERSION),
    teacher: z.string().max(200).describe('Name at the foot of every sheet.').optional(),
    date: z.iso
      .date()
      .describe('Date of the sheets, like 2026-11-25; left out: the day the pack is made.')
      .optional(),
    story: z
      .string()
      .max(LONGEST_STORY)
      .describe("The teacher's own text; blank lines part its paragraphs.")
      .optional(),
    tempos: z
      .strictObject({ learnBones: tempo, learn: tempo, steady: tempo, upToSpeed: tempo })
      .partial()
      .describe("Beats a minute, in the dance's beat.")
      .optional(),
    times: z.int().min(1).max(9).describe('Times through in a track.').optional(),
    swing: z
      .number()
      .min(1)
      .max(2.5)
      .describe("Long : short of a pair of running notes; left out: the dance's own.")
      .optional(),
    density: density.describe('How full the bones are; "usual" is what the dance asks for.').optional(),
    plain: plainSwitches.describe('What of the ornaments stays in "all the notes".').optional(),
    versions: z
      .array(versionChoice)
      .min(LADDER_LENGTH.least)
      .max(LADDER_LENGTH.most)
      .describe('The versions of the lesson, simplest first; left out: bones, all the notes, full.')
      .optional(),
    acceptedOrnaments: z
      .array(acceptedOrnament)
      .max(2000)
      .describe('Suggested ornaments that the teacher has accepted; they are in the full version.')
      .optional(),
    ...HAND_FIELDS,
    papers: z
      .array(z.enum(['A4', 'Letter']))
      .min(1)
      .describe('Papers, one sheet each.')
      .optional(),
    tracks: z.array(trackWish).max(40).describe('Tracks beside the usual ones.').optional(),
    recordings: z.array(recording).max(40).describe("Recordings of the teacher's own.").optional(),
    formats: z.array(z.enum(SOUND_FORMATS)).min(1).describe('Kinds of sound file; left out: MP3.').optional(),
    click: z.boolean().describe('A click on every beat of every track.').optional(),
    band: z
      .strictObject({ players: z.array(z.enum(PLAYERS)).min(1), pattern: z.enum(['usual', 'other']) })
      .partial()
      .describe("Who plays the backing, and which of the dance's two patterns.")
      .optional(),
    fiddle: z
      .strictObject({ variation: z.boolean(), vibrato: z.boolean() })
      .partial()
      .describe('Small differences from note to note; vibrato on long notes.')
      .optional(),
    words: z.enum(['british', 'us']).describe('Names of note values: crotchet or quarter note.').optional(),
    keptBars: z
      .array(keptBar)
      .max(2000)
      .describe(
        'Bars of the bones that the teacher has written or chosen; they stay when the rest is made anew.',
      )
      .optional(),
    barTable: z
      .array(z.strictObject({ part: label, bars: z.array(fingerprint).max(5000) }))
      .max(200)
      .describe(
        'The bars of "all the notes" when something was last attached to one; written by the program.',
      )
      .optional(),
    notes: z
      .array(ownNote)
      .max(500)
      .describe("The teacher's own words in the teaching notes, in order.")
      .optional(),
  })
  .describe('A Tuneladder lesson: what the teacher decides beside the tune itself.');

/** What lesson.json holds, or what is wrong with it. */
export type ReadLesson =
  | {
      readonly kind: 'lesson';
      readonly settings: Omit<LessonSettings, 'date'> & { readonly date: string | null };
    }
  | { readonly kind: 'problem'; readonly problems: readonly LessonProblem[] };

/** One thing that is wrong with lesson.json: a sentence that names the field; line and column count from 1. */
export interface LessonProblem {
  readonly message: string;
  readonly line: number;
  readonly column: number;
}

/** Drops what is absent, so that a default can take its place. */
const present = <T extends object>(value: T): { [K in keyof T]?: Exclude<T[K], undefined> } =>
  Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };

/** Where JSON.parse stopped: its message names the offset. The start where it names none. */
const placeOfJsonError = (
  text: string,
  error: unknown,
): { readonly line: number; readonly column: number } => {
  const offset = /position (\d+)/.exec(error instanceof Error ? error.message : '')?.[1];
  return placeFinder(text)(offset === undefined ? text.length : Number(offset));
};

const listed = (values: readonly unknown[]): string => values.map((v) => JSON.stringify(v)).join(' or ');

const KINDS: Readonly<Record<string, string>> = {
  string: 'a text in quotes',
  number: 'a number',
  int: 'a whole number',
  array: 'a list in square brackets',
  object: 'fields in curly brackets',
};

/** What a field should hold, in words. */
const wanted = (issue: z.core.$ZodIssue): string => {
  switch (issue.code) {
    case 'invalid_type':
      return `takes ${KINDS[issue.expected] ?? issue.expected}.`;
    case 'too_big':
      if (issue.origin === 'array') return `has too many; at most ${issue.maximum}.`;
      return `is too ${issue.origin === 'string' ? 'long' : 'large'}; at most ${issue.maximum}${issue.origin === 'string' ? ' characters' : ''}.`;
    case 'too_small':
      if (issue.origin !== 'array') return `is too small; at least ${issue.minimum}.`;
      return issue.minimum === 1 ? 'is empty.' : `has too few; at least ${issue.minimum}.`;
    case 'invalid_value':
      return `takes ${listed(issue.values)}.`;
    case 'invalid_format':
      return issue.format === 'date'
        ? 'takes a day like "2026-11-25".'
        : 'is not written as docs/lesson.schema.json asks.';
    case 'invalid_union':
      if ('options' in issue && Array.isArray(issue.options)) return `takes ${listed(issue.options)}.`;
      return issue.path[0] === 'keptBars'
        ? 'is not written as docs/lesson.schema.json asks.'
        : `takes a number or ${listed(TEMPO_STEPS)}.`;
    case 'unrecognized_keys':
      return `has no field ${listed(issue.keys)}.`;
    case 'custom':
      return issue.message;
    default:
      return `is wrong: ${issue.message}.`;
  }
};

/** Where a field stands: behind its name, searched for along its path; the text's start where it is missing. */
const placeOfField = (text: string, path: readonly PropertyKey[]): { line: number; column: number } => {
  let at = 0;
  for (const name of path.filter((p) => typeof p === 'string')) {
    const found = text.indexOf(JSON.stringify(name), at);
    if (found === -1) break;
    at = found;
  }
  return placeFinder(text)(at);
};

/** What a JSON file of ours holds, or every problem in a sentence that names the field. */
type ReadJson<T> =
  | { readonly kind: 'read'; readonly data: T }
  | { readonly kind: 'problem'; readonly problems: readonly LessonProblem[] };

/**
 * Reads a JSON file of a form.
 * @param name - of the file, for problems that are no field's
 */
export const readJson = <T>(text: string, form: z.ZodType<T>, name: string): ReadJson<T> => {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    const message = 'this is not well-formed JSON: look for a missing quote, comma or bracket here.';
    return { kind: 'problem', problems: [{ message, ...placeOfJsonError(text, error) }] };
  }
  const read = form.safeParse(json);
  if (read.success) return { kind: 'read', data: read.data };
  return {
    kind: 'problem',
    problems: read.error.issues.map((issue) => ({
      message: `${issue.path.length === 0 ? name : issue.path.join('.')} ${wanted(issue)}`,
      ...placeOfField(
        text,
        issue.code === 'unrecognized_keys' ? [...issue.path, ...issue.keys.slice(0, 1)] : issue.path,
      ),
    })),
  };
};

/**
 * Reads lesson.json.
 * @param text - the file's text
 * @returns the settings with defaults filled in, or every problem in a sentence that names the field
 */
export const readLessonFile = (text: string): ReadLesson => {
  const read = readJson(text, lessonFile, 'lesson.json');
  if (read.kind === 'problem') return read;
  const {
    $schema: _s,
    format: _f,
    version: _v,
    date,
    tempos,
    plain,
    versions,
    band,
    fiddle,
    notes,
    ...rest
  } = read.data;
  const ladder = versions?.map((choice) => present(choice) as VersionChoice);
  const problem =
    ladder === undefined ? null : ladderProblem(ladder, rest.density ?? DEFAULT_SETTINGS.density);
  if (problem !== null)
    return {
      kind: 'problem',
      problems: [{ message: `versions ${problem}`, ...placeOfField(text, ['versions']) }],
    };
  return {
    kind: 'lesson',
    settings: {
      ...DEFAULT_SETTINGS,
      ...present(rest),
      tempos: present(tempos ?? {}),
      plain: present(plain ?? {}),
      ...(ladder === undefined ? {} : { versions: ladder }),
      band: { ...DEFAULT_SETTINGS.band, ...present(band ?? {}) },
      fiddle: { ...DEFAULT_SETTINGS.fiddle, ...present(fiddle ?? {}) },
      ownNotes: (notes ?? []).map((note) => present(note) as OwnNote),
      date: date ?? null,
    },
  };
};

/** The JSON Schema of lesson.json: docs/lesson.schema.json holds it for editors and other programs. */
export const lessonJsonSchema = (): unknown => z.toJSONSchema(lessonFile);
