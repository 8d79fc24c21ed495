import {
  chordGridPages,
  engraveSheet,
  fingerMapPages,
  loadEngraver,
  type Page,
  phraseMapPages,
} from '../engrave/index.ts';
import {
  capoHintOf,
  capoWords,
  creditOf,
  fingerMapOf,
  fullestOf,
  type Lesson,
  lessonOf,
  type Paper,
  phraseMapOf,
  titlesOf,
} from '../lesson/index.ts';
import { pdfOf } from '../print/index.ts';
import {
  reusedSilence,
  type SilenceOf,
  type StereoSound,
  settleLoudness,
  TRACK_GOAL,
} from '../signal/index.ts';
import { DRAWN_PAGES, type PackJob, type PageKind } from './jobs.ts';
import { loadBank } from './loadBank.ts';
import { readOwnSound } from './ownSound.ts';
import { encodeTrack, renderTrack } from './renderTrack.ts';
import { sheetPlanOf } from './sheetPlanOf.ts';
import { type PackSource, tuneOf } from './source.ts';
import { textFile } from './textFiles.ts';
import { tagsOf } from './trackTags.ts';

/** What all jobs of one worker share. */
export interface JobRoom {
  readonly source: PackSource;
  readonly lesson: Lesson;
  /** Where tracks lie, one after another. */
  readonly silence: SilenceOf;
}

/** A worker's room: what several jobs need is made when the first one asks. */
export const roomOf = (source: PackSource): JobRoom => {
  const lesson = lessonOf(tuneOf(source).score, source.settings);
  return { source, lesson, silence: reusedSilence() };
};

const settledInPlace = (sound: StereoSound): StereoSound => settleLoudness(sound, TRACK_GOAL, sound);

const pdfMeta = (lesson: Lesson, subject: string) => ({
  title: `${titlesOf(lesson)[0] ?? ''}: ${subject}`,
  author: lesson.settings.teacher === '' ? creditOf(lesson) : lesson.settings.teacher,
  date: lesson.settings.date,
});

const drawnPages = (kind: PageKind, lesson: Lesson, paper: Paper): readonly Page[] => {
  const plan = sheetPlanOf(lesson, [fullestOf(lesson).id], paper);
  const { score } = fullestOf(lesson);
  switch (kind) {
    case 'chordGrid': {
      const hint = capoHintOf(lesson.chords, lesson.written.key);
      return chordGridPages(plan, hint === null ? null : capoWords(hint));
    }
    case 'fingerMap':
      return fingerMapPages(plan, fingerMapOf(score));
    case 'phraseMap':
      return phraseMapPages(plan, phraseMapOf(lesson.versions.plain, score));
    default:
      return kind satisfies never;
  }
};

/**
 * Makes the files of one job.
 * @param onProgress - called with 0…1 as the work goes on, also to show that it has not hung
 * @returns the bytes of each file, in the order of the job's paths
 */
export const runJob = async (
  job: PackJob,
  { lesson, source, silence }: JobRoom,
  onProgress: (fraction: number) => void,
): Promise<readonly Uint8Array[]> => {
  onProgress(0);
  switch (job.kind) {
    case 'sheet': {
      const plan = sheetPlanOf(lesson, job.versions, job.paper);
      const pages = await engraveSheet(plan, await loadEngraver());
      onProgress(0.6);
      return [await pdfOf(pages, pdfMeta(lesson, plan.subtitle))];
    }
    case 'page': {
      const pages = drawnPages(job.page, lesson, job.paper);
      return [await pdfOf(pages, pdfMeta(lesson, DRAWN_PAGES[job.page]))];
    }
    case 'track': {
      const { plan, outOf } = job;
      const tags = tagsOf(lesson, plan, outOf, job.cover ?? null);
      const sound =
        plan.own === null
          ? renderTrack(lesson, plan, { bank: await loadBank(), silence })
          : settledInPlace(await readOwnSound(plan.own));
      onProgress(0.3);
      return encodeTrack(sound, tags, lesson.settings.formats, (f) => onProgress(0.3 + 0.7 * f));
    }
    case 'text': {
      const content = await textFile(job.text, lesson, source, () => onProgress(0.5));
      return [typeof content === 'string' ? new TextEncoder().encode(content) : content];
    }
    default:
      return job satisfies never;
  }
};
