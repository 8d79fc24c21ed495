import { toNumber } from '../core/index.ts';
import { withSlurs } from '../fiddle/index.ts';
import type { ChordPlan } from '../harmony/index.ts';
import { chordPlanOf } from '../harmony/index.ts';
import { type Dance, danceOf, type TempoStep } from '../music/index.ts';
import { fieldsOf, runningNoteOf, type Score } from '../score/index.ts';
import { deriveVersions, type Versions } from '../versions/index.ts';
import { type AcceptedEntry, fullWith } from './acceptedOrnaments.ts';
import { anchoredNow } from './anchors/index.ts';
import { type KeptState, keepBars } from './kept/index.ts';
import {
  type Ladder,
  type LessonVersion,
  ladderOf,
  type NeighbourFit,
  neighbourFits,
  settingsOfVersions,
} from './ladder.ts';
import type { LessonSettings } from './settings.ts';
import type { StayDownChoice } from './stayDownChoices.ts';
import type { VersionId, VersionKind } from './versionChoice.ts';
import { placeWays, type WayState } from './ways/index.ts';

/** Everything that follows from one tune and a teacher's settings: what sheets, tracks and notes are made of. */
export interface Lesson {
  readonly written: Score;
  readonly settings: LessonSettings;
  /** The tune's own three; which of them the lesson has, and what others, says `ladder`. */
  readonly versions: Versions;
  /** The versions of the lesson, simplest first. */
  readonly ladder: Ladder;
  /** What has become of each kept bar, in their order. */
  readonly kept: readonly KeptState[];
  /** What has become of each other way to play a bar, in their order. */
  readonly ways: readonly WayState[];
  /** What the teacher says of fingers that stay down, where their bars are now. */
  readonly stayDownChoices: readonly StayDownChoice[];
  readonly chords: ChordPlan;
  readonly dance: Dance;
  /** The tune has no `R:` and the dance was judged by metre and running note. */
  readonly danceJudged: boolean;
  /** How each version sits against the next one. */
  readonly fits: readonly NeighbourFit[];
  /** Accepted ornaments that the full version has not got, because their bar has changed or bears another. */
  readonly ornamentsLeft: readonly AcceptedEntry[];
}

/**
 * Works out a lesson.
 *
 * The same tune and settings give the same lesson on every machine.
 * @param written - the teacher's setting
 */
export const lessonOf = (written: Score, settings: LessonSettings): Lesson => {
  const found = danceOf(fieldsOf(written, 'R')[0], written.metre, runningNoteOf(written));
  const derived = deriveVersions(written, settingsOfVersions(settings));
  const accepted = anchoredNow(settings.acceptedOrnaments, settings.barTable, derived.plain);
  const { full, left } = fullWith(written, derived.plain, accepted);
  const made = { ...derived, plain: withSlurs(derived.plain, settings.slurs), full };
  const [simplest, ...others] = ladderOf(made, settings);
  const { keptIn, states } = keepBars([simplest, ...others], made.plain, settings);
  const kept: Ladder = [keptIn(simplest), ...others.map(keptIn)];
  const { waysIn, states: ways } = placeWays(kept, made.plain, settings);
  const [lowest, ...higher] = kept;
  const ladder: Ladder = [waysIn(lowest), ...higher.map(waysIn)];
  const bones = ladder.find(({ kind }) => kind === 'bones')?.score ?? made.bones;
  const versions = { ...made, bones };
  return {
    written,
    settings,
    versions,
    ladder,
    kept: states,
    ways,
    stayDownChoices: anchoredNow(settings.stayDownChoices, settings.barTable, made.plain),
    chords: chordPlanOf(written),
    dance: found.dance,
    danceJudged: found.judged,
    fits: neighbourFits(ladder),
    ornamentsLeft: left,
  };
};

/** A version of the lesson by its id. @throws RangeError when the lesson has none of that id */
export const versionOf = (lesson: Lesson, id: VersionId): LessonVersion => {
  const found = lesson.ladder.find((v) => v.id === id);
  if (found === undefined) throw new RangeError(`the lesson has no version "${id}"`);
  return found;
};

/** The version of the lesson with the most in it. */
export const fullestOf = ({ ladder }: Lesson): LessonVersion => ladder.at(-1) ?? ladder[0];

/**
 * How far a `Q:` may lie from the dance's own tempo, as a factor, and still be taken for a tempo to play at. Ours: the
 * old bare form counts unit notes ("Q:120" in a reel is 30 minims a minute), and few who wrote it meant that.
 */
const BELIEVED = { least: 0.4, most: 2.5 };

/** What the tune's own `Q:` asks for, in whole beats of the dance; null without one that names its beat. */
const writtenTempo = ({ written, dance }: Lesson): number | null => {
  const { beat = null, beatsPerMinute = null } = written.tempo ?? {};
  if (beat === null || beatsPerMinute === null) return null;
  const tempo = Math.round((beatsPerMinute * toNumber(beat)) / toNumber(dance.beat));
  const factor = tempo / dance.tempo.upToSpeed;
  return factor >= BELIEVED.least && factor <= BELIEVED.most ? tempo : null;
};

/**
 * Beats a minute at a tempo step: the bones are learnt a little slower than the other versions.
 *
 * The teacher's tempo wins; then the tune's own `Q:`, which is the tempo to perform it at (common practice) and so its
 * `upToSpeed`; then the dance's. A `Q:` below the dance's slows the other steps in the same measure, so that they stay
 * in order; one above leaves them, because nobody learns faster for it.
 */
export const tempoOf = (lesson: Lesson, step: TempoStep, version: VersionKind | null): number => {
  const key = step === 'learn' && version === 'bones' ? 'learnBones' : step;
  const given = lesson.settings.tempos[key];
  if (given !== undefined) return given;
  const { tempo } = lesson.dance;
  const asked = writtenTempo(lesson) ?? tempo.upToSpeed;
  if (step === 'upToSpeed') return asked;
  return Math.round(tempo[key] * Math.min(1, asked / tempo.upToSpeed));
};
