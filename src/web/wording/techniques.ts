// What is said of techniques over all lessons, of standing words, and of two lessons compared.
import { many } from './counting.ts';

export const techniques = {
  heading: 'Techniques',
  link: 'Techniques and standing words',
  about: 'Which lesson teaches what. What you write here comes into every lesson that has the technique.',
  looking: (left: number) => `Looking through ${many(left, 'more lesson', 'more lessons')} …`,
  here: (count: number) => (count === 0 ? 'in no lesson yet' : `in ${many(count, 'lesson', 'lessons')}`),
  whole: 'all through',
  words: 'What you say of it',
  drill: 'A drill of one or two lines',
  see: 'Where you taught it: a lesson’s title, or a web address and its name; one a line',
  edit: 'Your standing words',
  written: 'Your standing words: written',
  own: 'Your words for ornaments',
  ownAbout: 'Left empty: the usual words.',
  names: { cut: 'A cut', treble: 'A treble', run: 'A run', roll: 'A roll' },
  saved: 'Saved',
  saving: 'Saving …',
  handedOut: 'Handed out, and changed since',
  handedOutAbout: 'Lessons whose pack is older than they are.',
  noneChanged: 'No lesson has changed since its pack was made.',
  made: (when: string) => `pack made ${when}`,
  unreadable: (problems: string) =>
    `Standing words cannot be changed here until their file is mended in a text editor: ${problems}`,
  back: 'Back to my lessons',
} as const;

export const comparing = {
  heading: 'Two lessons compared',
  link: 'Compare two lessons',
  about: 'Two settings of a tune, bar under bar.',
  first: 'The first',
  second: 'The second',
  choose: (which: string) => `${which}: find a lesson`,
  other: 'Another one',
  working: 'Comparing …',
  none: 'has no such bar',
  only: 'Show only what is different',
  take: 'Take this one',
} as const;
