import { type Bank, renderTimeline } from '../audio/index.ts';
import { creditOf, type Lesson, type TrackPlan, timelineOfTrack, titlesOf } from '../lesson/index.ts';
import { encodeMp3, type SoundTags } from '../media/index.ts';
import { settleLoudness, TRACK_GOAL } from '../signal/index.ts';

/** What a track says about itself to a music player. */
const tagsOf = (lesson: Lesson, plan: TrackPlan, outOf: number): SoundTags => {
  const [title = ''] = titlesOf(lesson);
  const { teacher, date } = lesson.settings;
  return {
    title: `${title}: ${plan.title}`,
    artist: teacher === '' ? creditOf(lesson) : teacher,
    album: title,
    track: { number: plan.number, outOf },
    date,
    comment: `Tune: ${creditOf(lesson)}`,
  };
};

/**
 * One finished track.
 * @param onProgress - called with 0…1 as the work goes on
 * @returns an MP3 file's bytes, −16 LUFS, true peak at most −1 dBTP (see `TRACK_GOAL`)
 */
export const renderTrack = async (
  lesson: Lesson,
  plan: TrackPlan,
  outOf: number,
  bank: Bank,
  onProgress: (fraction: number) => void,
): Promise<Uint8Array> => {
  const sound = settleLoudness(renderTimeline(timelineOfTrack(lesson, plan), bank), TRACK_GOAL);
  onProgress(0.3);
  return encodeMp3(sound, tagsOf(lesson, plan, outOf), { onProgress: (f) => onProgress(0.3 + 0.7 * f) });
};
