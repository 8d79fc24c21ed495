import { setTrackLength } from '../sets/index.ts';
import { type BuildOptions, type BuildResult, buildFolder } from './buildFolder.ts';
import { coverDrawnApart, showsCover } from './coverDrawnApart.ts';
import { setJobs } from './setJobs.ts';
import { type SetSource, setOfSource, setSum } from './setSource.ts';

/**
 * Builds a set's folder: sheet, tracks, the set in words, manifest and zip. See `buildFolder`.
 * @throws RangeError when the plan is one that `setProblems` finds wrong; WorldError when the place cannot be written; the
 * signal's reason after an abort
 */
export const buildSet = (source: SetSource, options: BuildOptions): Promise<BuildResult> => {
  const set = setOfSource(source);
  const jobs = setJobs(set);
  const [first] = source.lessons;
  const input = setSum(source);
  const { teacher, date } = set.settings;
  return buildFolder(
    {
      jobs,
      trackLengths: new Map(
        jobs.map((job) => [job.id, job.kind === 'track' ? setTrackLength(set, job.track) : 0]),
      ),
      inputs: new Map(jobs.map(({ id }) => [id, input])),
      workerUrl: new URL('./setWorker.js', import.meta.url),
      workerData: source,
      cover:
        first !== undefined && showsCover(set.settings.formats)
          ? () => coverDrawnApart(first, set.title)
          : null,
      about: { title: set.title, teacher, date },
      zip: 'set',
    },
    options,
  );
};
