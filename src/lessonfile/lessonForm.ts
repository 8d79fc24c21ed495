import { AUDIENCES, LADDER_LENGTH, SOUND_FORMATS } from '../lesson/index.ts';
import { PLAYERS } from '../perform/index.ts';
import { DENSITIES } from '../versions/index.ts';
import { acceptedOrnament, barWay, fingerprint, keptBar, label, stayDownChoice } from './attachedForm.ts';
import { z } from './form.ts';
import { HAND_FIELDS } from './handFields.ts';
import { ornamentNames } from './namesForm.ts';
import { ownNote } from './ownNoteForm.ts';
import { LONGEST_NAME, recording, tempo, trackWish } from './trackForm.ts';

/** The version of lesson.json that this program writes. */
const LESSON_VERSION = 1;

const LONGEST_STORY = 50_000;

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

/**
 * The form of lesson.json, its fields in the order in which they are written: what the program writes comes last.
 * Fields left out take their defaults. Title, key and credit live in tune.abc.
 */
export const lessonForm = z
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
    ...HAND_FIELDS,
    papers: z
      .array(z.enum(['A4', 'Letter']))
      .min(1)
      .describe('Papers, one sheet each.')
      .optional(),
    largePrint: z.boolean().describe('Larger music and words on the sheets.').optional(),
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
    names: ornamentNames.optional(),
    notes: z
      .array(ownNote)
      .max(500)
      .describe("The teacher's own words in the teaching notes, in order.")
      .optional(),
    audiences: z
      .record(z.string().min(1).max(200), z.enum(AUDIENCES))
      .describe(
        'Whom a part of the pack is for, by its name ("sheet/bones") or the beginning of it ("track"); left out: as is usual.',
      )
      .optional(),
    acceptedOrnaments: z
      .array(acceptedOrnament)
      .max(2000)
      .describe('Suggested ornaments that the teacher has accepted; they are in the full version.')
      .optional(),
    stayDownChoices: z
      .array(stayDownChoice)
      .max(2000)
      .describe('Fingers that stay down which the teacher wants shown at their place, or does not.')
      .optional(),
    keptBars: z
      .array(keptBar)
      .max(2000)
      .describe(
        'Bars of the bones that the teacher has written or chosen; they stay when the rest is made anew.',
      )
      .optional(),
    ways: z
      .array(barWay)
      .max(2000)
      .describe('Other ways to play a bar: which are played when, and which are printed as small bars.')
      .optional(),
    barTable: z
      .array(z.strictObject({ part: label, bars: z.array(fingerprint).max(5000) }))
      .max(200)
      .describe(
        'The bars of "all the notes" when something was last attached to one; written by the program.',
      )
      .optional(),
  })
  .describe('A Tuneladder lesson: what the teacher decides beside the tune itself.');
