import { createHash } from 'node:crypto';
import { readFileSync, statSync } from 'node:fs';
import { basename } from 'node:path';
import {
  capoHintOf,
  creditOf,
  descriptionOf,
  fingerMapOf,
  fullestOf,
  type Lesson,
  performanceOfTrack,
  phraseMapOf,
  practiceDataOf,
  type RunningOrder,
  runningOrderOf,
  sourceOfSetting,
  type TeachingNotes,
  type TrackPlan,
  teachingNotesOf,
  titlesOf,
} from '../lesson/index.ts';
import type { PackJob, PageKind, SomeVersions, TextKind } from './jobs.ts';
import { PACK_FORMAT, PACK_VERSION } from './manifest.ts';
import { notesPage } from './notesPage.ts';
import { sheetPlanOf } from './sheetPlanOf.ts';
import type { PackSource } from './source.ts';
import { tagsOf } from './trackTags.ts';

const PACKAGE = new URL('../../package.json', import.meta.url);

let version: string | undefined;

/** The program's version: another one may make other files of the same lesson. */
const programVersion = (): string => {
  version ??= (JSON.parse(readFileSync(PACKAGE, 'utf8')) as { readonly version: string }).version;
  return version;
};

/** Maps and sets as lists: JSON alone would drop what is in them. */
const listed = (_key: string, value: unknown): unknown =>
  value instanceof Map || value instanceof Set ? [...value] : value;

const sumOf = (value: unknown): string =>
  createHash('sha256').update(JSON.stringify(value, listed)).digest('hex');

/** A recording by name, size and time: to read it all would take too long each time that somebody looks. */
const recordingInput = (path: string): unknown => {
  const about = statSync(path, { throwIfNoEntry: false });
  return [basename(path), about?.size ?? null, about === undefined ? null : Math.floor(about.mtimeMs)];
};

/** What several parts of a lesson are made of, worked out once. */
interface Shared {
  readonly lesson: Lesson;
  readonly source: PackSource;
  readonly planOf: (versions: SomeVersions) => unknown;
  readonly scoreOf: (id: string) => string;
  readonly notes: () => TeachingNotes;
  readonly order: () => RunningOrder;
}

const onceEach = <K, V>(make: (key: K) => V, nameOf: (key: K) => string): ((key: K) => V) => {
  const made = new Map<string, V>();
  return (key) => {
    const name = nameOf(key);
    const known = made.get(name);
    if (known !== undefined) return known;
    const value = make(key);
    made.set(name, value);
    return value;
  };
};

const sharedOf = (lesson: Lesson, source: PackSource): Shared => {
  const notes = onceEach(
    () => teachingNotesOf(lesson),
    () => '',
  );
  const order = onceEach(
    () => runningOrderOf(lesson, notes(null)),
    () => '',
  );
  return {
    lesson,
    source,
    planOf: onceEach(
      (versions: SomeVersions) => sumOf(sheetPlanOf(lesson, versions, 'A4')),
      (versions) => versions.join(' '),
    ),
    scoreOf: onceEach(
      (id: string) => sumOf(lesson.ladder.find((v) => v.id === id)),
      (id) => id,
    ),
    notes: () => notes(null),
    order: () => order(null),
  };
};

const pageInput = (page: PageKind, { lesson, planOf }: Shared): unknown => {
  const fullest = fullestOf(lesson);
  const plan = planOf([fullest.id]);
  switch (page) {
    case 'chordGrid':
      return [plan, capoHintOf(lesson.chords, lesson.written.key)];
    case 'fingerMap':
      return [plan, fingerMapOf(fullest.score)];
    case 'phraseMap':
      return [plan, phraseMapOf(lesson.versions.plain, fullest.score)];
    default:
      return page satisfies never;
  }
};

const trackInput = (plan: TrackPlan, outOf: number, { lesson, scoreOf }: Shared): unknown => {
  const { formats, fiddle } = lesson.settings;
  const { version: played, settings } = performanceOfTrack(lesson, plan);
  const sound = plan.own === null ? [scoreOf(played.id), settings, fiddle] : recordingInput(plan.own);
  const cover = [titlesOf(lesson)[0], scoreOf(fullestOf(lesson).id), lesson.settings.teacher];
  return [sound, tagsOf(lesson, plan, outOf, null), cover, formats];
};

const textInput = (text: TextKind, { lesson, source, scoreOf, notes, order }: Shared): unknown => {
  const { settings, chords, dance } = lesson;
  const scores = lesson.ladder.map(({ id }) => scoreOf(id));
  const about = [titlesOf(lesson), creditOf(lesson), sourceOfSetting(lesson), settings.date];
  switch (text) {
    case 'abc':
      return source.abc;
    case 'musicxml': {
      const { tuning, position, marks, stayDowns } = settings;
      return [about, scores, chords, tuning, position, marks, stayDowns, lesson.stayDownChoices];
    }
    case 'midi':
      return [about, lesson.written, scores, chords, dance, settings.tempos, settings.swing, settings.band];
    case 'practice':
      return practiceDataOf(lesson, notes());
    case 'notes':
      return [
        notesPage(lesson, notes(), { parts: new Map(), ornaments: new Map() }),
        lesson.versions.full,
        chords,
      ];
    case 'description':
      return descriptionOf(lesson, source.tracks);
    case 'runningOrder':
      return [titlesOf(lesson)[0], settings.words, order()];
    case 'chapters':
      return order();
    default:
      return text satisfies never;
  }
};

const inputOf = (job: PackJob, shared: Shared): unknown => {
  switch (job.kind) {
    case 'sheet':
      return [shared.planOf(job.versions), job.paper];
    case 'page':
      return [pageInput(job.page, shared), job.paper];
    case 'track':
      return trackInput(job.plan, job.outOf, shared);
    case 'text':
      return textInput(job.text, shared);
    default:
      return job satisfies never;
  }
};

/**
 * What each job's files are made from, as a sum: where it is the same, a file that is there needs not be made again.
 *
 * Sums hold for one version of the program. A date that the teacher has not given (`source.undated`) has no part in
 * them. Verovio and the samples are not asked; a usual lesson takes some tenths of a second.
 * @returns SHA-256 in hexadecimal digits, by the job's id
 */
export const inputsOf = (
  jobs: readonly PackJob[],
  lesson: Lesson,
  source: PackSource,
): ReadonlyMap<string, string> => {
  const timeless =
    source.undated === true ? { ...lesson, settings: { ...lesson.settings, date: '' } } : lesson;
  const shared = sharedOf(timeless, source);
  const form = [PACK_FORMAT, PACK_VERSION, programVersion()];
  return new Map(jobs.map((job) => [job.id, sumOf([form, job.paths, inputOf(job, shared)])]));
};

/** A sum of all that is handed to the workers: where a folder's parts are not told apart by what they are made from. */
export const sourceSum = (source: unknown): string =>
  sumOf([PACK_FORMAT, PACK_VERSION, programVersion(), source]);
