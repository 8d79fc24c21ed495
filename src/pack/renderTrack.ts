import { type Bank, renderTimeline } from '../audio/index.ts';
import {
  type FiddleManner,
  type Lesson,
  type SoundFormat,
  type TrackPlan,
  timelineOfTrack,
} from '../lesson/index.ts';
import { encodeFlac, encodeMp3, encodeWav, type SoundTags } from '../media/index.ts';
import type { Timeline } from '../perform/index.ts';
import { type SilenceOf, type StereoSound, settleLoudness, TRACK_GOAL } from '../signal/index.ts';

/** Any number: every track of every lesson has the same small differences in the same places. */
const SEED = 1;

/** What tracks are rendered with: the samples, and where theirs lie. */
export interface Studio {
  readonly bank: Bank;
  readonly silence: SilenceOf;
}

/**
 * The sound of a timeline.
 * @returns −16 LUFS, true peak at most −1 dBTP after encoding (see `TRACK_GOAL`)
 */
export const renderPlayed = (
  timeline: Timeline,
  { variation, vibrato }: FiddleManner,
  { bank, silence }: Studio,
): StereoSound => {
  const options = { variation: variation ? SEED : null, vibrato, silence };
  const sound = renderTimeline(timeline, bank, options);
  return settleLoudness(sound, TRACK_GOAL, sound);
};

/** The sound of one track of a lesson. */
export const renderTrack = (lesson: Lesson, plan: TrackPlan, studio: Studio): StereoSound =>
  renderPlayed(timelineOfTrack(lesson, plan), lesson.settings.fiddle, studio);

const encoded = (
  sound: StereoSound,
  tags: SoundTags,
  format: SoundFormat,
  onProgress: (fraction: number) => void,
): Promise<Uint8Array> => {
  switch (format) {
    case 'mp3':
      return encodeMp3(sound, tags, { onProgress });
    case 'flac':
      return encodeFlac(sound, tags, { onProgress });
    case 'wav':
      return Promise.resolve(encodeWav(sound, tags));
    default:
      return format satisfies never;
  }
};

/**
 * One sound as files of several kinds.
 * @param onProgress - called with 0…1 as the work goes on
 * @returns each file's bytes, in the order of `formats`
 */
export const encodeTrack = async (
  sound: StereoSound,
  tags: SoundTags,
  formats: readonly SoundFormat[],
  onProgress: (fraction: number) => void,
): Promise<readonly Uint8Array[]> => {
  const files: Uint8Array[] = [];
  for (const [i, format] of formats.entries())
    files.push(await encoded(sound, tags, format, (f) => onProgress((i + f) / formats.length)));
  return files;
};
