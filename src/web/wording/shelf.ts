// What "My lessons", "A new lesson" and a broken lesson say.
import { many } from './counting.ts';

export const shelf = {
  heading: 'My lessons',
  folder: (folder: string) => `Their folder: ${folder}`,
  find: 'Find',
  findHint: 'Title, dance, key, ornament, or the first notes: G A B d',
  newLesson: 'New lesson',
  none: 'No lesson yet. Paste a tune, and the first one is made.',
  nothingFound: (words: string) => `No lesson answers to “${words}”.`,
  count: (all: number) => many(all, 'lesson', 'lessons'),
  found: (matching: number, all: number) =>
    `${matching.toLocaleString('en-GB')} of ${many(all, 'lesson', 'lessons')}`,
  more: (hidden: number) =>
    `${many(hidden, 'more lesson answers', 'more lessons answer')}; say a little more to find it.`,
  list: 'Lessons',
  also: (titles: string) => `also ${titles}`,
  pack: {
    none: 'no pack yet',
    current: 'pack up to date',
    outOfDate: 'pack out of date',
    building: 'pack being made',
  },
  changed: (when: string) => `changed ${when}`,
  duplicate: 'Duplicate',
  rename: 'Rename',
  remove: 'Delete',
  nameOf: (act: string, title: string) => `${act}: ${title}`,
  newName: 'New title',
  keepName: 'Rename',
  cancel: 'Leave it',
  removed: (title: string) => `“${title}” is deleted.`,
  bringBack: 'Bring it back',
  deletedLessons: (lessons: number, sets: number) =>
    [
      lessons === 0 ? '' : many(lessons, 'deleted lesson', 'deleted lessons'),
      sets === 0 ? '' : many(sets, 'deleted set', 'deleted sets'),
    ]
      .filter((words) => words !== '')
      .join(', '),
  deleted: (when: string) => `deleted ${when}`,
  throwAway: 'Throw away',
  reallyThrow: 'Yes, for good, with its pack and recordings',
  keepIt: 'Keep it',
  broken: (why: string) => `Cannot be opened as a lesson: ${why}`,
  openAnyway: 'See what can be saved',
} as const;

export const making = {
  heading: 'A new lesson',
  paste: 'Paste a tune in ABC',
  placeholder: 'X:1\nT:The name of the tune\nR:reel\nM:4/4\nL:1/8\nK:G\n…',
  orFile: 'or take a file: ABC, MusicXML or MIDI',
  choose: 'Choose a file',
  drop: 'You can also drop a file here.',
  reading: 'Reading …',
  tunes: (count: number) => `${many(count, 'tune', 'tunes')} in it`,
  which: 'Which of them become lessons?',
  all: 'All',
  noneOf: 'None',
  about: (dance: string, key: string, bars: number) =>
    [dance, key === '' ? '' : `in ${key}`, many(bars, 'bar', 'bars')].filter((w) => w !== '').join(', '),
  problems: (count: number) =>
    `${many(count, 'thing', 'things')} to look at; the lesson shows where, with a remedy for each`,
  place: (line: number, message: string) => `Line ${line}: ${message}`,
  teacher: 'Your name',
  teacherAbout: 'It stands at the foot of every sheet, and is remembered here. You can leave it empty.',
  make: (count: number) => (count === 1 ? 'Make the lesson' : `Make ${count} lessons`),
  made: (done: number, of: number) =>
    `${done.toLocaleString('en-GB')} of ${many(of, 'lesson', 'lessons')} made`,
  stop: 'Stop here',
  begin: {
    number: 'Put X:1 before it',
    header: 'Put a header before it; title, dance and key are yours to fill in',
  },
  hidden: (count: number) =>
    `${many(count, 'more tune answers', 'more tunes answer')}; say a little more to find it.`,
  findTune: 'Find a tune in it',
  chosen: (count: number) => (count === 0 ? 'None chosen yet' : `${count.toLocaleString('en-GB')} chosen`),
  untitled: 'without a title',
  back: 'Back to my lessons',
  rights:
    'Teach what you may teach: newer tunes and the recording you learnt from can belong to somebody. Local law decides.',
} as const;

export const broken = {
  what: 'The files of this lesson cannot be read as they are. Nothing has been changed.',
  remedy: 'Mend them with a text editor, or copy the tune below into a new lesson; this page follows.',
  tune: 'tune.abc as it lies there',
  settings: 'lesson.json as it lies there',
} as const;
