// Every word that the workbench itself says, in one place. What a lesson says comes with the lesson.

const many = (count: number, one: string, more: string): string =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : more}`;

const minutes = (seconds: number): string => {
  if (seconds < 10) return 'a few seconds';
  if (seconds < 90) return `${Math.ceil(seconds / 10) * 10} seconds`;
  return `${Math.ceil(seconds / 60)} minutes`;
};

const shelf = {
  heading: 'My lessons',
  folder: (folder: string) => `They lie in ${folder}`,
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
  broken: (why: string) => `Cannot be opened as a lesson: ${why}`,
  openAnyway: 'See what can be saved',
} as const;

const making = {
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
  make: (count: number) => (count === 1 ? 'Make the lesson' : `Make ${count} lessons`),
  untitled: 'without a title',
  back: 'Back to my lessons',
  rights:
    'Teach what you may teach: newer tunes and the recording you learnt from can belong to somebody. Local law decides.',
} as const;

const safety = {
  saved: 'Saved',
  saving: 'Saving …',
  waiting: 'Not saved yet: the program is not running. Your work is kept here and goes out when it is back.',
  refused: (why: string) => `Not saved yet: ${why} Your work is kept here and tried again.`,
  clash: 'This lesson was changed elsewhere, in the same lines as here.',
  mine: 'Keep what is here',
  theirs: 'Take what is there',
  either: 'The other one stays among the earlier states.',
  fromElsewhere: 'The lesson was changed elsewhere; this is how it is now.',
  merged: 'Changes from elsewhere were put together with yours.',
  broughtBack: 'Work from last time that had not been saved is back.',
  good: 'Good',
} as const;

const ladder = {
  noTune: 'There is no tune to show yet: the text needs a key (K:) and notes under it.',
  settingsUnread: (why: string) => `lesson.json cannot be read: ${why}`,
  music: 'The music',
  versions: 'Versions',
  show: (name: string) => `${name}: seen`,
  hear: (name: string) => `${name}: heard`,
  seen: 'seen',
  heard: 'heard',
  shaded: 'Shaded notes are new in that version.',
  bar: (number: string) => `Bar ${number}`,
  pickup: (part: string) => `Pick-up of part ${part}`,
  restOfBar: (part: string) => `Rest of a bar, part ${part}`,
  working: 'Working the lesson out …',
  bars: (from: string, to: string) =>
    from === to ? from : `${from} to ${to.charAt(0).toLowerCase()}${to.slice(1)}`,
  fit: (name: string, fit: string) => `${name}: ${fit}`,
  larger: 'Larger music',
  smaller: 'Smaller music',
} as const;

const playing = {
  play: 'Play',
  stop: 'Stop',
  wait: 'One moment',
  noSound: 'This browser gives no sound.',
  fromStart: 'from the start',
  from: (bar: string) => `from ${bar.charAt(0).toLowerCase()}${bar.slice(1)}`,
  loop: (bars: string) => `${bars}, round and round`,
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

const panels = {
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

const text = {
  name: 'The tune in ABC',
  fine: 'Nothing to complain of.',
  problems: (count: number) => many(count, 'thing to look at', 'things to look at'),
  step: 'typing',
  goTo: 'Show',
} as const;

const keys = {
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

const earlier = {
  about: 'States of the lesson as it was after pauses. Bringing one back can be undone like any other step.',
  none: 'No earlier state yet: the first is kept after a pause.',
  take: 'Bring it back',
  takeOf: (when: string) => `Bring it back: ${when}`,
  back: (when: string) => `The lesson is as it was ${when}.`,
  step: 'bringing an earlier state back',
} as const;

const lessonText = {
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

const pack = {
  folder: (folder: string) => `It lies in ${folder}`,
  build: (count: number) => (count === 1 ? 'Make one part' : `Make ${count} parts`),
  nothingDue: 'All is up to date',
  building: 'Making the pack',
  making: (what: string, left: number | null) =>
    left === null ? `Now: ${what}` : `Now: ${what}. ${minutes(left)} left.`,
  stop: 'Stop',
  stopped: 'Stopped; what was there before is there still.',
  done: 'The pack is ready.',
  doneBut: (failed: readonly string[]) => `Ready, but for ${failed.join(', ')}.`,
  wholeZip: 'Everything as one zip',
  zipFor: (group: string) => `Zip for ${group === 'public' ? 'everybody' : group}`,
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
  forWhom: 'for whom a part is',
  audienceOf: (what: string) => `For whom: ${what}`,
  open: 'Open',
  openOf: (what: string) => `Open: ${what}`,
  rebuild: 'Make anew',
  rebuildOf: (what: string) => `Make anew: ${what}`,
  ownWindow: 'In a window of its own',
  save: 'Save',
  letters: 'Letters',
  letterTo: (group: string) => `Draft for ${group === 'public' ? 'everybody' : group}`,
  copy: 'Copy it',
} as const;

const bar = {
  none: 'Choose a bar in the music: what can be done with it appears here.',
  several: 'Several bars are chosen; this is the first of them.',
  all: (abc: string) => `All the notes: ${abc}`,
  choices: (name: string) => `${name}: choose, or write your own`,
  now: 'as it is now',
  take: 'Take it',
  takeOf: (abc: string) => `Take it: ${abc}`,
  hear: 'Hear it',
  hearOf: (what: string) => `Hear it: ${what}`,
  own: 'Your own notes for it, in ABC',
  keep: 'Keep my bar',
  everywhere: (count: number) =>
    count === 1 ? 'also in the other bar like it' : `also in the ${count} other bars like it`,
  forget: 'Back to what is derived',
  ownBar: 'your own',
  noChoice: 'There is no such bar to choose.',
  noBar: 'The tune has no such bar any more.',
  wrongLength: (length: string, wanted: string) => `This bar lasts ${length}, the tune’s ${wanted}.`,
  ornaments: 'Ornaments',
  noOrnaments: 'None is suggested here.',
  accept: 'Accept',
  acceptOf: (what: string) => `Accept: ${what}`,
  refuse: 'Take it out',
  refuseOf: (what: string) => `Take it out: ${what}`,
  acceptAll: (count: number, name: string) => `Accept all ${count}: ${name}`,
  accepted: (kind: string) => `${kind}, accepted`,
  ornament: {
    cut: 'cuts',
    doubleGrace: 'two cuts',
    shortRoll: 'short rolls',
    longRoll: 'long rolls',
    treble: 'trebles',
    runTriplet: 'run-triplets',
    slide: 'slides',
    drone: 'drones',
    unison: 'unisons',
  },
  howHard: 'How hard it is',
  hard: (name: string, word: string, why: readonly string[]) =>
    why.length === 0 ? `${name}: ${word}.` : `${name}: ${word}; most of all ${why.join(' and ')}.`,
  work: {
    crossings: 'string crossings',
    fingers: 'fourth fingers and stretches',
    awkward: 'one finger for two places',
    ornaments: 'ornaments',
    bow: 'the bow',
  },
  notes: 'What the notes say of it',
  handOn: (finger: number, string: string) =>
    finger === 0 ? `open ${string}` : `${finger} on the ${string} string`,
  ownNote: 'Your own words on this bar',
  instead: 'instead of what is drafted',
  keepNote: 'Keep these words',
  alike: 'It comes also as',
  listen: (simpler: string, fuller: string) => `${simpler} with ${fuller}: listen here.`,
  step: {
    choose: 'another bar of the bones',
    type: 'a bar of your own',
    forget: 'back to the derived bar',
    note: 'words on a bar',
    accept: 'an ornament',
    acceptKind: 'ornaments',
    refuse: 'taking an ornament out',
  },
} as const;

const note = {
  heading: 'This note',
  which: 'Point at a note in the music, or choose it here:',
  hand: (hand: string) => `A player would take ${hand}.`,
  finger: 'Finger',
  bow: 'Bow',
  none: 'none written',
  open: '0, open',
  down: 'down',
  up: 'up',
  chord: 'Chord above it',
  takeChord: 'Take it over',
  chordAbout: 'A written chord holds until the next one in its part.',
  writeChords: 'Write all the chords of the backing',
  slur: 'slurred to the next note',
  sign: 'Ornament',
  signs: {
    roll: 'roll',
    trill: 'trill',
    turn: 'turn',
    slide: 'slide',
    upperMordent: 'upper mordent',
    lowerMordent: 'lower mordent',
  },
  stepUp: 'a step up',
  stepDown: 'a step down',
  octaveUp: 'an octave up',
  octaveDown: 'an octave down',
  double: 'twice as long',
  half: 'half as long',
  step: {
    finger: 'a finger',
    bow: 'a bow',
    sign: 'an ornament sign',
    graces: 'grace notes',
    chord: 'a chord',
    slur: 'a slur',
    step: 'a note moved',
    octave: 'a note moved by an octave',
    pitch: 'a note moved',
    length: 'a length',
  },
} as const;

const move = {
  heading: 'Another key',
  about: 'Moves the tune and all that you kept; the hands are worked out anew. Undo takes it back.',
  keynote: 'Keynote',
  direction: 'Which way',
  directions: [
    ['near', 'where it lies best'],
    ['up', 'up'],
    ['down', 'down'],
  ],
  act: 'Move the lesson',
  step: 'another key',
  noKey: (text: string) => `${text} is no keynote.`,
  noKeynote: 'The tune has no keynote to move from: write its key with K: first.',
  isThere: 'It is in that key already: up or down moves it an octave.',
  fingersLeftOut: (count: number) =>
    `${many(count, 'written finger was', 'written fingers were')} left out: in this key they are others.`,
} as const;

const camera = {
  open: 'Before the camera',
  place: (at: number, of: number) => `${at} of ${of}`,
  time: (now: string, planned: string) => `${now} of ${planned}`,
  back: 'Back',
  next: (title: string) => `On: ${title}`,
  end: 'That is all',
  countIn: (tempo: string) => `Count me in, ${tempo}`,
  tuneA: 'An A to tune to',
  keys: 'Space goes on, ← back, C counts you in, A gives an A, Esc leaves. The screen stays awake. Keep the click low in your ear.',
} as const;

const broken = {
  what: 'The files of this lesson cannot be read as they are. Nothing has been changed.',
  remedy: 'Mend them with a text editor, or copy the tune below into a new lesson; this page follows.',
  tune: 'tune.abc as it lies there',
  settings: 'lesson.json as it lies there',
} as const;

const remedies = {
  takeOut: (sign: string) => `Take the ${sign} out`,
  addTitle: 'Add a title',
  addNumber: 'Write X:1',
} as const;

/** What the workbench says. */
export const wording = {
  product: 'Tuneladder',
  away: 'the program does not answer. Start it again with npm start; this page goes on by itself.',
  refused: (status: number) => `The program refused (${status}).`,
  loading: 'One moment …',
  notThere: 'There is no such page.',
  minutes,
  many,
  shelf,
  making,
  safety,
  ladder,
  playing,
  panels,
  text,
  keys,
  remedies,
  bar,
  camera,
  move,
  note,
  broken,
  earlier,
  lessonText,
  pack,
  undo: 'Undo',
  redo: 'Redo',
  undoWhat: (what: string) => `Undo ${what}`,
  redoWhat: (what: string) => `Redo ${what}`,
} as const;
