import { engraveSetSheet, loadEngraver } from '../engrave/index.ts';
import { creditOf } from '../lesson/index.ts';
import type { SoundTags } from '../media/index.ts';
import { pdfOf } from '../print/index.ts';
import { type SetTrack, type TuneSet, timelineOfSetTrack } from '../sets/index.ts';
import { reusedSilence, type SilenceOf } from '../signal/index.ts';
import { loadBank } from './loadBank.ts';
import { setPracticePage } from './practicePage.ts';
import { encodeTrack, renderPlayed } from './renderTrack.ts';
import type { SetJob } from './setJobs.ts';
import { setSheetPlanOf } from './setSheetPlanOf.ts';
import { type SetSource, setOfSource } from './setSource.ts';
import { setText } from './setText.ts';

/** Layouts that are drawn of a tune of three versions: alone and in pairs, with one, two and four bars in a line. */
const LAYOUTS_OF_TUNE = 15;

/** What all jobs of one worker share. */
export interface SetRoom {
  readonly set: TuneSet;
  readonly silence: SilenceOf;
}

/** A worker's room. */
export const setRoomOf = (source: SetSource): SetRoom => ({
  set: setOfSource(source),
  silence: reusedSilence(),
});

/** Who is named: the teacher, else who made the tunes. */
const artistOf = ({ settings, tunes }: TuneSet): string =>
  settings.teacher === ''
    ? [...new Set(tunes.map(({ lesson }) => creditOf(lesson)))].join(', ')
    : settings.teacher;

const tagsOf = (set: TuneSet, track: SetTrack, outOf: number, cover: Uint8Array | null): SoundTags => ({
  title: `${set.title}: ${track.title}`,
  artist: artistOf(set),
  album: set.title,
  track: { number: track.number, outOf },
  date: set.settings.date,
  comment: `Tunes: ${[...new Set(set.tunes.map(({ lesson }) => creditOf(lesson)))].join(', ')}`,
  ...(cover === null ? {} : { cover }),
});

/**
 * Makes the files of one job.
 * @param onProgress - called with 0…1 as the work goes on
 * @returns the bytes of each file, in the order of the job's paths
 */
export const runSetJob = async (
  job: SetJob,
  { set, silence }: SetRoom,
  onProgress: (fraction: number) => void,
): Promise<readonly Uint8Array[]> => {
  onProgress(0);
  const { formats, fiddle, date } = set.settings;
  switch (job.kind) {
    case 'sheet': {
      const pages = engraveSetSheet(setSheetPlanOf(set, job.paper), await loadEngraver());
      onProgress(0.6);
      return [await pdfOf(pages, { title: set.title, author: artistOf(set), date })];
    }
    case 'track': {
      const sound = renderPlayed(timelineOfSetTrack(set, job.track), fiddle, {
        bank: await loadBank(),
        silence,
      });
      onProgress(0.3);
      return encodeTrack(sound, tagsOf(set, job.track, job.outOf, job.cover ?? null), formats, (f) =>
        onProgress(0.3 + 0.7 * f),
      );
    }
    case 'page': {
      const layouts = set.tunes.length * LAYOUTS_OF_TUNE;
      let drawn = 0;
      const page = await setPracticePage(
        set,
        { engraver: await loadEngraver(), bank: await loadBank() },
        () => {
          drawn += 1;
          onProgress(Math.min(0.95, drawn / layouts));
        },
      );
      return [new TextEncoder().encode(page)];
    }
    case 'text':
      return [new TextEncoder().encode(setText(set))];
    default:
      return job satisfies never;
  }
};
