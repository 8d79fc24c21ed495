import { SET_LENGTH, type SetPlan } from '../sets/index.ts';
import { z } from './form.ts';
import { printedJson } from './printedJson.ts';
import { type LessonProblem, readJson } from './readJson.ts';
import { LONGEST_NAME, tempo } from './trackForm.ts';

/** The version of a set's file that this program writes. */
const SET_VERSION = 1;
/** Times through a tune where the file says nothing. Common practice: two or three. */
const USUAL_TIMES = 2;
const LONGEST_TITLE = 200;

/** A lesson is named by its folder on the shelf: no way leads out of there. */
const lessonName = z
  .string()
  .min(1)
  .max(255)
  .refine((name) => !/[\\/]/.test(name) && name !== '.' && name !== '..', {
    error: "takes the name of a lesson's folder, without a path.",
  })
  .describe("The lesson's folder.");

const tune = z.strictObject({
  lesson: lessonName,
  times: z.int().min(1).max(9).describe(`Times through; left out: ${USUAL_TIMES}.`).optional(),
  tempos: z
    .strictObject({ steady: tempo, upToSpeed: tempo })
    .partial()
    .describe("Beats a minute, in the dance's beat; left out: the lesson's.")
    .optional(),
  turn: z
    .string()
    .min(1)
    .max(12)
    .describe('The chord that leads to the next tune, like "D7"; left out: one is found.')
    .optional(),
});

const setForm = z
  .strictObject({
    $schema: z.string().optional(),
    format: z.literal('tuneladder-set'),
    version: z.literal(SET_VERSION),
    title: z.string().max(LONGEST_TITLE).describe('Left out: the titles of the tunes.').optional(),
    plays: z
      .string()
      .min(1)
      .max(LONGEST_NAME)
      .describe('The version that is printed and played, like "bones"; left out: the fullest.')
      .optional(),
    tunes: z.array(tune).min(SET_LENGTH.least).max(SET_LENGTH.most).describe('In the order of playing.'),
  })
  .describe('A Tuneladder set: two to four lessons that are played in a row.');

/** A set as a shelf keeps it: the plan, and its lessons by their folders' names, one for each of its tunes. */
export interface StoredSet {
  readonly lessons: readonly string[];
  readonly plan: SetPlan;
}

/** What a set's file holds, or what is wrong with it. */
export type ReadSet =
  | { readonly kind: 'set'; readonly set: StoredSet }
  | { readonly kind: 'problem'; readonly problems: readonly LessonProblem[] };

/**
 * Reads a set's file.
 * @returns the set with defaults filled in, or every problem in a sentence that names the field
 */
export const readSetFile = (text: string): ReadSet => {
  const read = readJson(text, setForm, "the set's file");
  if (read.kind === 'problem') return read;
  const { title = '', plays, tunes } = read.data;
  return {
    kind: 'set',
    set: {
      lessons: tunes.map(({ lesson }) => lesson),
      plan: {
        title,
        version: plays ?? null,
        tunes: tunes.map(({ times = USUAL_TIMES, tempos: { steady, upToSpeed } = {}, turn = null }) => ({
          times,
          tempos: {
            ...(steady === undefined ? {} : { steady }),
            ...(upToSpeed === undefined ? {} : { upToSpeed }),
          },
          turn,
        })),
      },
    },
  };
};

/** A set's file, to be read by people too; what is as usual is left out. */
export const writeSetFile = ({ lessons, plan }: StoredSet): string =>
  printedJson({
    format: 'tuneladder-set',
    version: SET_VERSION,
    ...(plan.title === '' ? {} : { title: plan.title }),
    ...(plan.version === null ? {} : { plays: plan.version }),
    tunes: plan.tunes.map(({ times, tempos, turn }, i) => ({
      lesson: lessons[i],
      ...(times === USUAL_TIMES ? {} : { times }),
      ...(Object.keys(tempos).length === 0 ? {} : { tempos }),
      ...(turn === null ? {} : { turn }),
    })),
  });

/** The JSON Schema of a set's file: docs/set.schema.json holds it for editors and other programs. */
export const setJsonSchema = (): unknown => z.toJSONSchema(setForm);
