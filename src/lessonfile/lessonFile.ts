import {
  DEFAULT_SETTINGS,
  type LessonSettings,
  ladderProblem,
  type OrnamentNames,
  type OwnNote,
  type VersionChoice,
} from '../lesson/index.ts';
import { z } from './form.ts';
import { lessonForm } from './lessonForm.ts';
import { type LessonProblem, placeOfField, readJson } from './readJson.ts';

/** What lesson.json holds, or what is wrong with it. */
export type ReadLesson =
  | {
      readonly kind: 'lesson';
      readonly settings: Omit<LessonSettings, 'date'> & { readonly date: string | null };
      /** The words for ornaments that the file itself gives: they win over those of words.json. */
      readonly names: Partial<OrnamentNames>;
    }
  | { readonly kind: 'problem'; readonly problems: readonly LessonProblem[] };

/** Drops what is absent, so that a default can take its place. */
const present = <T extends object>(value: T): { [K in keyof T]?: Exclude<T[K], undefined> } =>
  Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };

/**
 * Reads lesson.json.
 * @param text - the file's text
 * @returns the settings with defaults filled in, or every problem in a sentence that names the field
 */
export const readLessonFile = (text: string): ReadLesson => {
  const read = readJson(text, lessonForm, 'lesson.json');
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
    names,
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
      names: { ...DEFAULT_SETTINGS.names, ...present(names ?? {}) },
      ownNotes: (notes ?? []).map((note) => present(note) as OwnNote),
      date: date ?? null,
    },
    names: present(names ?? {}),
  };
};

/** The JSON Schema of lesson.json: docs/lesson.schema.json holds it for editors and other programs. */
export const lessonJsonSchema = (): unknown => z.toJSONSchema(lessonForm);
