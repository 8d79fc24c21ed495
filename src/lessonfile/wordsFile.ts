import {
  type OrnamentNames,
  type StandingNote,
  type StandingWords,
  TECHNIQUES,
  webAddressProblem,
} from '../lesson/index.ts';
import { z } from './form.ts';
import { ornamentNames } from './namesForm.ts';
import { printedJson } from './printedJson.ts';
import { type LessonProblem, readJson } from './readJson.ts';

/** The version of words.json that is read. */
const WORDS_VERSION = 1;

const webAddress = z.string().superRefine((address, context) => {
  const problem = webAddressProblem(address);
  if (problem !== null) context.addIssue({ code: 'custom', message: problem });
});

const link = z.union([
  z.strictObject({ lesson: z.string().min(1).max(200).describe('Title of an earlier lesson.') }),
  z.strictObject({
    web: webAddress.describe('An http or https address.'),
    title: z.string().min(1).max(200).describe('What is shown in its place.').optional(),
  }),
]);

const technique = z.strictObject({
  words: z.string().max(5000).describe('What you say of it in every lesson.').optional(),
  drill: z
    .array(z.string().min(1).max(300))
    .min(1)
    .max(2)
    .describe('A drill of one or two lines.')
    .optional(),
  see: z.array(link).max(10).describe('Where you taught it: earlier lessons, web addresses.').optional(),
});

const wordsFile = z
  .strictObject({
    $schema: z.string().optional(),
    format: z.literal('tuneladder-words'),
    version: z.literal(WORDS_VERSION),
    names: ornamentNames.optional(),
    techniques: z
      .partialRecord(z.enum(TECHNIQUES), technique)
      .describe('What you say of each technique in every lesson that has it.')
      .optional(),
  })
  .describe("A teacher's standing words, for one lesson or for all lessons of a folder.");

/** What words.json holds, or what is wrong with it. */
export type ReadWords =
  | { readonly kind: 'words'; readonly names: Partial<OrnamentNames>; readonly standing: StandingWords }
  | { readonly kind: 'problem'; readonly problems: readonly LessonProblem[] };

type Words = Extract<ReadWords, { kind: 'words' }>;

/** Drops what is absent, so that what stands elsewhere can take its place. */
const present = (value: object): object =>
  Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined));

/**
 * Reads words.json.
 * @returns what it says, or every problem in a sentence that names the field
 */
export const readWordsFile = (text: string): ReadWords => {
  const read = readJson(text, wordsFile, 'words.json');
  if (read.kind === 'problem') return read;
  const { names = {}, techniques = {} } = read.data;
  const standing = Object.entries(techniques).map(([key, note]) => [key, present(note) as StandingNote]);
  return { kind: 'words', names: present(names), standing: Object.fromEntries(standing) };
};

/** words.json, to be read by people too: what is empty is left out. */
export const writeWordsFile = ({ names, standing }: Pick<Words, 'names' | 'standing'>): string => {
  const techniques = Object.fromEntries(
    TECHNIQUES.flatMap((technique) => {
      const note = present(standing[technique] ?? {});
      return Object.keys(note).length === 0 ? [] : [[technique, note]];
    }),
  );
  return printedJson({
    format: 'tuneladder-words',
    version: WORDS_VERSION,
    ...(Object.keys(names).length === 0 ? {} : { names }),
    ...(Object.keys(techniques).length === 0 ? {} : { techniques }),
  });
};

/** The JSON Schema of words.json: docs/words.schema.json holds it for editors and other programs. */
export const wordsJsonSchema = (): unknown => z.toJSONSchema(wordsFile);
