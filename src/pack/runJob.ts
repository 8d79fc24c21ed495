import { chordGridPages, engraveSheet, loadEngraver } from '../engrave/index.ts';
import { creditOf, fullestOf, type Lesson, titlesOf } from '../lesson/index.ts';
import { pdfOf } from '../print/index.ts';
import type { PackJob } from './jobs.ts';
import { loadBank } from './loadBank.ts';
import { renderTrack } from './renderTrack.ts';
import { sheetPlanOf } from './sheetPlanOf.ts';
import type { PackSource } from './source.ts';
import { textFile } from './textFiles.ts';

/** What all jobs of one worker share. */
export interface JobRoom {
  readonly source: PackSource;
  readonly lesson: Lesson;
}

const pdfMeta = (lesson: Lesson, subject: string) => ({
  title: `${titlesOf(lesson)[0] ?? ''}: ${subject}`,
  author: lesson.settings.teacher === '' ? creditOf(lesson) : lesson.settings.teacher,
  date: lesson.settings.date,
});

/**
 * Makes one file of the pack.
 * @param onProgress - called with 0…1 as the work goes on, also to show that it has not hung
 * @returns the file's bytes
 */
export const runJob = async (
  job: PackJob,
  { lesson, source }: JobRoom,
  onProgress: (fraction: number) => void,
): Promise<Uint8Array> => {
  onProgress(0);
  switch (job.kind) {
    case 'sheet': {
      const plan = sheetPlanOf(lesson, job.versions, job.paper);
      const pages = await engraveSheet(plan, await loadEngraver());
      onProgress(0.6);
      return pdfOf(pages, pdfMeta(lesson, plan.subtitle));
    }
    case 'chordGrid': {
      const pages = chordGridPages(sheetPlanOf(lesson, [fullestOf(lesson).id], job.paper));
      return pdfOf(pages, pdfMeta(lesson, 'Chord grid'));
    }
    case 'track':
      return renderTrack(lesson, job.plan, job.outOf, await loadBank(), onProgress);
    case 'text': {
      const content = await textFile(job.text, lesson, source);
      return typeof content === 'string' ? new TextEncoder().encode(content) : content;
    }
    default:
      return job satisfies never;
  }
};
