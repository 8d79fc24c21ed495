import { clockTime, type Paper, slugOf } from '../lesson/index.ts';
import { type SetTrack, setTrackLength, setTracks, type TuneSet } from '../sets/index.ts';
import type { FolderJob } from './workerPool.ts';

/** One piece of a set's folder. */
export type SetJob = FolderJob &
  (
    | { readonly kind: 'sheet'; readonly paper: Paper }
    | { readonly kind: 'track'; readonly track: SetTrack; readonly outOf: number }
    | { readonly kind: 'page' }
    | { readonly kind: 'text' }
  );

/** Expected seconds of work. Ours: as for a lesson's pack, a sheet for each tune. */
const EFFORT = { sheetOfTune: 1.5, pageOfTune: 4, text: 0.1, trackSecond: 0.025 } as const;

const twoDigits = (n: number): string => String(n).padStart(2, '0');

/** Everything that a set's folder is made of, in the order in which the manifest lists it. */
export const setJobs = (set: TuneSet): readonly SetJob[] => {
  const slug = slugOf(set.title);
  const { papers, formats } = set.settings;
  const tracks = setTracks(set);
  return [
    ...papers.map(
      (paper): SetJob => ({
        kind: 'sheet',
        id: `sheet/set/${paper.toLowerCase()}`,
        effort: EFFORT.sheetOfTune * set.tunes.length,
        family: 'drawing',
        paper,
        what: `sheet of the set, ${paper}`,
        paths: [`sheets/${slug}-${paper.toLowerCase()}.pdf`],
      }),
    ),
    ...tracks.map((track): SetJob => {
      const length = setTrackLength(set, track);
      return {
        kind: 'track',
        id: `track/${track.slug}`,
        effort: EFFORT.trackSecond * length,
        family: 'sound',
        track,
        outOf: tracks.length,
        what: `track: ${track.title} (${clockTime(length)})`,
        paths: formats.map((format) => `tracks/${twoDigits(track.number)}-${slug}-${track.slug}.${format}`),
      };
    }),
    {
      kind: 'page',
      id: 'page/practice',
      effort: EFFORT.pageOfTune * set.tunes.length,
      family: 'drawing',
      what: 'practice page of the set',
      paths: ['practice.html'],
    },
    {
      kind: 'text',
      id: 'text/set',
      effort: EFFORT.text,
      family: 'drawing',
      what: 'the set in words: order, tempi, corners',
      paths: ['set.txt'],
    },
  ];
};
