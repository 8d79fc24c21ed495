import { creditOf, type Lesson, type TrackPlan, titlesOf } from '../lesson/index.ts';
import type { SoundTags } from '../media/index.ts';

/**
 * What a track says about itself to a music player.
 * @param cover - a PNG picture; null: none
 */
export const tagsOf = (
  lesson: Lesson,
  plan: TrackPlan,
  outOf: number,
  cover: Uint8Array | null,
): SoundTags => {
  const [title = ''] = titlesOf(lesson);
  const { teacher, date } = lesson.settings;
  return {
    title: `${title}: ${plan.title}`,
    artist: teacher === '' ? creditOf(lesson) : teacher,
    album: title,
    track: { number: plan.number, outOf },
    date,
    comment: `Tune: ${creditOf(lesson)}`,
    ...(cover === null ? {} : { cover }),
  };
};
