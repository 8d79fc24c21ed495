import { DEFAULT_SETTINGS, type LessonSettings, type OrnamentNames } from '../lesson/index.ts';
import { type ReadLesson, readLessonFile } from './lessonFile.ts';
import { lessonForm } from './lessonForm.ts';
import { printedJson } from './printedJson.ts';

/** Settings as a teacher or the program has changed them; `standing` is not among them, it lives in words.json. */
export type SettingsChange = Partial<Omit<LessonSettings, 'date' | 'names' | 'standing'>> & {
  /** `null`: the day the pack is made. */
  readonly date?: string | null;
  /** The words that the file itself shall give; the rest comes from words.json. */
  readonly names?: Partial<OrnamentNames>;
};

/** lesson.json with changes put in and what it says now; or why it can't be so. */
export type ChangedLesson =
  | (Extract<ReadLesson, { kind: 'lesson' }> & { readonly text: string })
  | Extract<ReadLesson, { kind: 'problem' }>;

/** Settings of which the file has only those fields that are not as usual. */
const BY_FIELD = ['band', 'fiddle'] as const;

const isSame = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);

/** The fields of a setting that are not as usual. */
const unusual = (value: object, usual: object): object =>
  Object.fromEntries(
    Object.entries(value).filter(([key, own]) => !isSame(own, new Map(Object.entries(usual)).get(key))),
  );

/** A setting as the file has it; undefined: it is left out. */
const written = (key: string, value: unknown): unknown => {
  const usual: unknown = new Map(Object.entries({ ...DEFAULT_SETTINGS, date: null, names: {} })).get(key);
  const byField = BY_FIELD.find((name) => name === key);
  const shown = byField === undefined ? value : unusual(Object(value), DEFAULT_SETTINGS[byField]);
  return isSame(value, usual) || isSame(shown, {}) ? undefined : shown;
};

/** What each setting is called in the file. */
const fieldOf = (key: string): string => (key === 'ownNotes' ? 'notes' : key);

/** The file's fields in their order. */
const FORM_ORDER: readonly string[] = Object.keys(lessonForm.shape);

/** Puts a field where the form has it among those that are there; one that is there already keeps its place. */
const withField = (
  fields: readonly (readonly [string, unknown])[],
  name: string,
  value: unknown,
): readonly (readonly [string, unknown])[] => {
  if (value === undefined) return fields.filter(([other]) => other !== name);
  if (fields.some(([other]) => other === name))
    return fields.map((field) => (field[0] === name ? [name, value] : field));
  const rank = FORM_ORDER.indexOf(name);
  const behind = fields.findIndex(([other]) => FORM_ORDER.indexOf(other) > rank);
  const at = behind === -1 ? fields.length : behind;
  return [...fields.slice(0, at), [name, value], ...fields.slice(at)];
};

/** What is attached to bars and found again by the table of bars. */
const ATTACHED: readonly string[] = ['keptBars', 'acceptedOrnaments', 'ways', 'stayDownChoices'];

/** Without anything that is attached to a bar, nobody needs the table of bars. */
const withoutIdleTable = (
  fields: readonly (readonly [string, unknown])[],
): readonly (readonly [string, unknown])[] =>
  fields.some(([name]) => ATTACHED.includes(name)) ? fields : withField(fields, 'barTable', undefined);

/**
 * lesson.json with changed settings put in.
 *
 * Everything else stays as it is, in its order; a setting that is as usual is left out. The file is laid out anew, to be
 * read by people too.
 * @param text - the file as it is
 * @param changes - whole settings: a list or a table of settings takes the place of the former one
 * @returns the new text, which `readLessonFile` reads, and what it says; the problems where the text can't be read or a
 * change is not to be had, with their places in the text as it would be
 */
export const withSettings = (text: string, changes: SettingsChange): ChangedLesson => {
  const before = readLessonFile(text);
  if (before.kind === 'problem') return before;
  let fields: readonly (readonly [string, unknown])[] = Object.entries(JSON.parse(text) as object);
  for (const [key, value] of Object.entries(changes))
    if (value !== undefined) fields = withField(fields, fieldOf(key), written(key, value));
  const changed = printedJson(Object.fromEntries(withoutIdleTable(fields)));
  const read = readLessonFile(changed);
  return read.kind === 'problem' ? read : { ...read, text: changed };
};
