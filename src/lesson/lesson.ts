import type { ChordPlan } from '../harmony/index.ts';
import { chordPlanOf } from '../harmony/index.ts';
import { type Dance, danceOf, type TempoStep } from '../music/index.ts';
import { fieldsOf, runningNoteOf, type Score } from '../score/index.ts';
import { deriveVersions, type Fit, fitOf, type Versions } from '../versions/index.ts';
import type { LessonSettings } from './settings.ts';

/** The versions of a lesson, in the order of learning. */
export const VERSION_IDS = ['bones', 'plain', 'full'] as const;
/** A version. */
export type VersionId = (typeof VERSION_IDS)[number];

/** Names of the versions on screen and paper. */
export const VERSION_NAMES: Readonly<Record<VersionId, string>> = {
  bones: 'The bones',
  plain: 'All the notes',
  full: 'Full version',
};

/** Everything that follows from one tune and a teacher's settings: what sheets, tracks and notes are made of. */
export interface Lesson {
  readonly written: Score;
  readonly settings: LessonSettings;
  readonly versions: Versions;
  readonly chords: ChordPlan;
  readonly dance: Dance;
  /** The tune has no `R:` and the dance was judged by metre and running note. */
  readonly danceJudged: boolean;
  /** How the bones sit against all the notes, and these against the full version. */
  readonly fit: { readonly bonesToPlain: Fit; readonly plainToFull: Fit };
}

/**
 * Works out a lesson.
 *
 * The same tune and settings give the same lesson on every machine.
 * @param written - the teacher's setting
 */
export const lessonOf = (written: Score, settings: LessonSettings): Lesson => {
  const found = danceOf(fieldsOf(written, 'R')[0], written.metre, runningNoteOf(written));
  const versions = deriveVersions(written, { density: settings.density, plain: settings.plain });
  return {
    written,
    settings,
    versions,
    chords: chordPlanOf(written),
    dance: found.dance,
    danceJudged: found.judged,
    fit: {
      bonesToPlain: fitOf(versions.bones, versions.plain),
      plainToFull: fitOf(versions.plain, versions.full),
    },
  };
};

/** Beats a minute at a tempo step: the bones are learnt a little slower than the other versions. */
export const tempoOf = (lesson: Lesson, step: TempoStep, version: VersionId | null): number => {
  const key = step === 'learn' && version === 'bones' ? 'learnBones' : step;
  return lesson.settings.tempos[key] ?? lesson.dance.tempo[key];
};
