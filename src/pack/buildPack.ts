import type { Lesson } from '../lesson/index.ts';
import { titleOf } from '../score/index.ts';
import { type BuildOptions, type BuildResult, buildFolder } from './buildFolder.ts';
import { coverDrawnApart, showsCover } from './coverDrawnApart.ts';
import { packJobs, trackSeconds } from './jobs.ts';
import { inputsOf } from './partInput.ts';
import type { PackSource } from './source.ts';

/**
 * Builds a lesson's pack: sheets, tracks, texts, manifest and zip. See `buildFolder`.
 * @throws WorldError when the place cannot be written; the signal's reason after an abort
 */
export const buildPack = (
  lesson: Lesson,
  source: PackSource,
  options: BuildOptions,
): Promise<BuildResult> => {
  const jobs = packJobs(lesson, source.tracks);
  const { teacher, date } = lesson.settings;
  return buildFolder(
    {
      jobs,
      trackLengths: new Map(jobs.map((job) => [job.id, trackSeconds(job)])),
      inputs: inputsOf(jobs, lesson, source),
      workerUrl: new URL('./packWorker.js', import.meta.url),
      workerData: source,
      cover: showsCover(lesson.settings.formats) ? () => coverDrawnApart(source) : null,
      about: { title: titleOf(lesson.written), teacher, date },
      zip: 'lesson-pack',
    },
    options,
  );
};
