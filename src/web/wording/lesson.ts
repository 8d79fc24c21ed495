// What a lesson's page says: whether it is saved, the ladder, playing, its panels.
import { type Group, groupWord } from '../../lesson/index.ts';
import { many, minutes } from './counting.ts';

export const safety = {
  saved: 'Saved',
  saving: 'Saving …',
  waiting: 'Not saved yet: the program is not running. Your work is kept here and goes out when it is back.',
  refused: (why: string) => `Not saved yet: ${why} Your work is kept here and tried again.`,
  clash: 'This lesson was changed elsewhere, in the same lines as here.',
  mine: 'Keep what is here',
  theirs: 'Take what is there',
  either: 'The other one stays among the earlier states.',
  wordsUnread: (problems: string) =>
    `Your standing words are left out until their file is mended in a text editor: ${problems}`,
  fromElsewhere: 'The lesson was changed elsewhere; this is how it is now.',
  merged: 'Changes from elsewhere were put together with yours.',
  broughtBack: 'Work from last time that had not been saved is back.',
  good: 'Good',
} as const;

export const ladder = {
  laterTune: {
    message: 'A second tune begins here; the lesson is of the first one alone.',
    hint: 'To teach it too, paste it into a new lesson.',
  },
  leaveLaterTune: 'Take it out of this text',
  noTune: 'There is no tune to show yet: the text needs a key (K:) and notes under it.',
  settingsUnread: (why: string) => `lesson.json cannot be read: ${why}`,
  music: 'The music',
  versions: 'Versions',
  show: (name: string) => `${name}: seen`,
  hear: (name: string) => `${name}: heard`,
  seen: 'seen',
  heard: 'heard',
  shaded: 'Shaded notes are new in that version.',
  nothingNew: (name: string, simpler: string) => `${name} adds nothing to ${simpler} so far.`,
  bar: (number: string) => `Bar ${number}`,
  pickup: (part: string) => `Pick-up of part ${part}`,
  restOfBar: (part: string) => `Rest of a bar, part ${part}`,
  working: 'Working the lesson out …',
  late: 'Drawing what the text says now …',
  bars: (from: string, to: string) =>
    from === to ? from : `${from} to ${to.charAt(0).toLowerCase()}${to.slice(1)}`,
  fit: (name: string, fit: string) => `${name}: ${fit}`,
  larger: 'Larger music',
  smaller: 'Smaller music',
} as const;

export const playing = {
  play: 'Play',
  stop: 'Stop',
  wait: 'One moment',
  counting: 'counting in',
  noSound: 'This browser gives no sound.',
  fromStart: 'from the start',
  from: (bar: string) => `from ${bar.charAt(0).toLowerCase()}${bar.slice(1)}`,
  loopWord: 'round and round',
  toStart: 'To the start',
  tempo: 'Tempo',
  beats: (beat: string, count: number) => `${beat} = ${Math.round(count)}`,
  percent: (percent: number) => `${percent} %`,
  step: { learn: 'to learn', steady: 'steady', upToSpeed: 'up to speed' },
  swing: 'Swing',
  swingAsDance: 'as the dance',
  swingIs: (ratio: number) => `${ratio.toFixed(2)} : 1`,
  asDance: 'As the dance',
  countIn: 'Count in',
  levels: 'Levels',
  fiddle: 'Fiddle',
  backing: 'Backing',
  click: 'Click',
  more: 'Swing and levels',
  care: 'Keep headphones low; rest hands and ears. Pain is for a clinician.',
} as const;

export const panels = {
  bar: 'This bar',
  text: 'Text',
  settings: 'Settings',
  words: 'Lesson text',
  pack: 'Pack',
  earlier: 'Earlier',
  keys: 'Keys',
  close: 'Close',
  beside: 'Beside the music',
} as const;

export const text = {
  name: 'The tune in ABC',
  fine: 'Nothing to complain of.',
  problems: (count: number) => many(count, 'thing to look at', 'things to look at'),
  step: 'typing',
  goTo: 'Show',
} as const;

export const keys = {
  heading: 'Keys',
  list: [
    ['Space', 'play, stop'],
    ['← →', 'from bar to bar; with Shift, choose several'],
    ['1 … 4', 'hear only that version'],
    ['Shift 1 … 4', 'show or hide that version'],
    ['+ −', 'a little faster, a little slower'],
    ['L', 'the chosen bars round and round'],
    ['Esc', 'let the bars go; close what is open'],
    ['Ctrl Z · Ctrl Y', 'undo, redo (⌘ on a Mac)'],
    ['B', 'this bar'],
    ['T', 'the text'],
    ['S', 'settings'],
    ['W', 'lesson text'],
    ['P', 'the pack'],
    ['?', 'this page'],
  ],
} as const;

export const remedies = {
  takeOut: (sign: string) => `Take the ${sign} out`,
  addTitle: 'Add a title',
  addNumber: 'Write X:1',
} as const;

export const earlier = {
  about: 'States of the lesson as it was after pauses. Bringing one back can be undone like any other step.',
  none: 'No earlier state yet: the first is kept after a pause.',
  take: 'Bring it back',
  takeOf: (when: string) => `Bring it back: ${when}`,
  back: (when: string) => `The lesson is as it was ${when}.`,
  step: 'bringing an earlier state back',
} as const;

export const lessonText = {
  title: 'Title',
  composer: 'Made by',
  source: 'Learnt from',
  origin: 'Where it is from',
  story: 'Story',
  storyAbout: 'Your own words about the tune; a blank line begins a new paragraph.',
  runningOrder: 'Running order of the video',
  runningOrderAbout: 'Planned from tempi, repeats and your notes; talking is estimated.',
  description: 'Description for your page',
  descriptionAbout: 'Made from the lesson; change it where it goes.',
  copy: 'Copy it',
} as const;

export const pack = {
  folder: (folder: string) => `Its folder: ${folder}`,
  build: (count: number) => (count === 1 ? 'Make one file' : `Make ${count} files`),
  about: (seconds: number) =>
    `Takes about ${minutes(seconds)}. You can go on working; a zip of everything is here when it is done.`,
  groups:
    'If you publish for circles of readers: a file can be for everybody, for your subscribers, or for supporters, who give most; each circle gets what those before it get. The choice below is a suggestion, to be changed at each file.',
  nothingDue: 'All is up to date',
  building: 'Making the pack',
  making: (what: string, left: number | null) =>
    left === null ? `Now: ${what}` : `Now: ${what}. ${minutes(left)} left.`,
  stop: 'Stop',
  stopped: 'Stopped; what was there before is there still.',
  done: 'The pack is ready.',
  doneBut: (failed: readonly string[]) => `Ready, but for ${failed.join(', ')}.`,
  wholeZip: 'Everything as one zip',
  zipFor: (group: Group) => `Zip for ${groupWord(group)}`,
  kind: { sheet: 'Sheets', page: 'Maps and grids', track: 'Tracks', text: 'Page, notes and files' },
  state: {
    missing: 'not made yet',
    current: 'up to date',
    outOfDate: 'out of date',
    changedByHand: 'changed by hand; making it anew keeps your copy',
  },
  audience: {
    public: 'for everybody',
    subscribers: 'for subscribers',
    supporters: 'for supporters',
    teacher: 'for me alone',
  },
  forWhom: 'for whom a file is',
  audienceOf: (what: string) => `For whom: ${what}`,
  open: 'Open',
  openOf: (what: string) => `Open: ${what}`,
  rebuild: 'Make anew',
  rebuildOf: (what: string) => `Make anew: ${what}`,
  ownWindow: 'In a window of its own',
  save: 'Save',
  letters: 'Letters',
  letterTo: (group: Group) => `Draft for ${groupWord(group)}`,
  copy: 'Copy it',
} as const;
