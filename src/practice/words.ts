// Every word that the page itself says, in one place. A translation is another value of the type `Wording`; what the
// lesson says (titles, notes, names of versions) comes with the lesson.

/** The first screen. */
interface OnSight {
  /** Of the document: "en-GB". */
  readonly language: string;
  readonly play: string;
  readonly stop: string;
  readonly more: string;
  readonly less: string;
  readonly wait: string;
  readonly version: string;
  readonly music: string;
  readonly hint: string;
  readonly tempo: string;
  readonly percent: (percent: number) => string;
  readonly tempoIs: (beat: string, beatsPerMinute: number) => string;
  readonly toLearn: string;
  readonly steady: string;
  readonly upToSpeed: string;
  readonly bar: (number: string) => string;
  readonly pickup: (part: string) => string;
  readonly restOfBar: (part: string) => string;
  readonly looped: (from: string, to: string) => string;
  readonly playOn: string;
  readonly fromHere: (bar: string) => string;
  readonly fromTheStart: string;
  readonly tunesOfSet: string;
  readonly atItsEnd: string;
}

/** Ways to practise. */
interface InPractice {
  readonly howToPractise: string;
  readonly through: string;
  readonly throughIs: string;
  readonly climb: string;
  readonly climbIs: (goal: number) => string;
  readonly climbGoal: string;
  readonly turns: string;
  readonly turnsIs: string;
  readonly turnLength: (bars: number) => string;
  readonly others: string;
  readonly othersIs: (version: string) => string;
  readonly yourTurn: string;
}

/** What is heard and seen. */
interface HeardAndSeen {
  readonly heard: string;
  readonly fiddle: string;
  readonly backing: string;
  readonly click: string;
  readonly swing: string;
  readonly swingIs: (ratio: number | null) => string;
  readonly swingAsDance: string;
  readonly countIn: string;
  readonly seen: string;
  readonly chords: string;
  readonly bows: string;
  readonly fingers: string;
  readonly stays: string;
  readonly names: string;
  readonly barNotes: string;
  readonly smaller: string;
  readonly larger: string;
  readonly together: string;
  readonly both: (one: string, other: string) => string;
}

/** What stands beside the music. */
interface Aside {
  readonly link: string;
  readonly linkCopied: string;
  readonly linkIs: (link: string) => string;
  readonly about: string;
  readonly taughtBy: (teacher: string) => string;
  readonly madeOn: (date: string) => string;
  readonly changed: string;
  readonly tuneBy: (credit: string) => string;
  readonly setting: (source: string) => string;
  readonly also: (titles: string) => string;
  readonly keys: string;
  readonly soundWay: Readonly<Record<'worklet' | 'pieces', string>>;
  readonly noSound: string;
  readonly silent: string;
  readonly licences: string;
  readonly slowly: (name: string, bar: string) => string;
  readonly ornaments: string;
  readonly ornamentKind: (name: string) => string;
  readonly ornamentIn: (name: string, bar: string) => string;
  readonly noOrnaments: string;
  readonly noneIn: (bar: string) => string;
  readonly barWith: (bar: string, names: readonly string[]) => string;
  readonly close: string;
  readonly sameAs: (label: string) => string;
  readonly fingerMap: string;
  readonly inTune: string;
  readonly inKey: string;
  readonly phraseMap: string;
  readonly part: (label: string) => string;
  readonly boxesMean: string;
}

/** What the page says. */
export type Wording = OnSight & InPractice & HeardAndSeen & Aside;

/** What differs between British and US English. */
interface Variety {
  readonly language: string;
  readonly bar: string;
  readonly practise: string;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const small = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

/** The first screen. */
const onSight = ({ language, bar }: Variety): OnSight => ({
  language,
  play: 'Play',
  stop: 'Stop',
  more: 'More',
  less: 'Less',
  wait: 'One moment',
  version: 'Version',
  music: 'The music',
  hint: `Touch a ${bar} to start there, an ornament to hear it slowly. Drag across ${bar}s to repeat them.`,
  tempo: 'Tempo',
  percent: (percent) => `${percent} %`,
  tempoIs: (beat, beatsPerMinute) => `${beat} = ${Math.round(beatsPerMinute)}`,
  toLearn: 'to learn',
  steady: 'steady',
  upToSpeed: 'up to speed',
  bar: (number) => `${capital(bar)} ${number}`,
  pickup: (part) => `Pick-up to part ${part}`,
  restOfBar: (part) => `Rest of the ${bar} in part ${part}`,
  looped: (from, to) => {
    if (from === to) return `${from}, round and round`;
    const number = (name: string): string => name.replace(`${capital(bar)} `, '');
    const numbered = number(from) !== from && number(to) !== to;
    const bars = numbered ? `${capital(bar)}s ${number(from)} to ${number(to)}` : `${from} to ${small(to)}`;
    return `${bars}, round and round`;
  },
  playOn: 'Play on',
  fromHere: (name) => `From ${small(name)}`,
  fromTheStart: 'From the start',
  tunesOfSet: 'Tunes of the set',
  atItsEnd: 'How it goes into the next',
});

/** Ways to practise. */
const inPractice = ({ bar, practise }: Variety): InPractice => ({
  howToPractise: `Ways to ${practise}`,
  through: 'Straight through',
  throughIs: 'The tune as it goes, or what you chose, round and round.',
  climb: 'Gradually faster',
  climbIs: (goal) =>
    `Each tempo twice, a little more each time up to ${goal} %, and one slow time to finish.`,
  climbGoal: 'Up to',
  turns: 'My turn, your turn',
  turnsIs: 'The fiddle plays a little, then waits for you to answer.',
  turnLength: (bars) => (bars === 1 ? `1 ${bar}` : `${bars} ${bar}s`),
  others: 'Everyone else plays',
  othersIs: (version) => `The others play their versions, you play this one: ${version}.`,
  yourTurn: 'Your turn',
});

/** What is heard and seen. */
const heardAndSeen = ({ bar }: Variety): HeardAndSeen => ({
  heard: 'What you hear',
  fiddle: 'Fiddle',
  backing: 'Backing',
  click: 'Click',
  swing: 'Swing',
  swingIs: (ratio) =>
    ratio === null ? 'as the dance goes' : ratio <= 1.02 ? 'even' : `${ratio.toFixed(2)} to 1`,
  swingAsDance: 'As the dance goes',
  countIn: 'Count me in',
  seen: 'What you see',
  chords: 'Chords',
  bows: 'Bows',
  fingers: 'Fingers and strings',
  stays: 'Fingers that stay down',
  names: 'Note names',
  barNotes: `What is in each ${bar}`,
  smaller: 'Smaller music',
  larger: 'Larger music',
  together: 'Two together',
  both: (one, other) => `${one} with ${small(other)}`,
});

/** What stands beside the music. */
const aside = ({ bar }: Variety): Aside => ({
  link: 'Link to this place',
  linkCopied: 'The link is copied: it opens this page as you see it now.',
  linkIs: (link) => `Add this to the page’s address: ${link}`,
  about: 'About this tune',
  taughtBy: (teacher) => `Taught by ${teacher}.`,
  madeOn: (date) => `This page was made on ${date}.`,
  changed: 'It has changed since you last opened it.',
  tuneBy: (credit) => `Tune: ${credit.replace(/\.$/, '')}.`,
  setting: (source) => `Setting: ${source}.`,
  also: (titles) => `Also called ${titles}.`,
  keys: `On a keyboard: space plays and stops, arrows go from ${bar} to ${bar} (with shift they choose), plus and minus change the tempo, 1, 2, 3 the version, L repeats the ${bar}, O plays its ornament slowly (again: its next one), Escape lets go.`,
  soundWay: {
    worklet: 'The sound is made in this page as you listen.',
    pieces: 'The sound is made in this page, a piece at a time; wishes take a moment longer.',
  },
  noSound: 'This browser gives the page no sound. The music is here to read; a newer browser will play it.',
  silent:
    'The browser gives no sound yet. See that a loudspeaker or headphones are connected, then open this page again.',
  licences: 'What is inside, and its licences',
  slowly: (name, place) => `${capital(name)}, ${small(place)}: slowly twice, then in its place.`,
  ornaments: 'Ornaments, slowly',
  ornamentKind: capital,
  ornamentIn: (name, place) => `${capital(name)}, ${small(place)}`,
  noOrnaments: 'This version has no ornaments.',
  noneIn: (place) => `No ornament in ${small(place)} of this version.`,
  barWith: (place, names) => [place, ...names].join(', '),
  close: 'Close',
  sameAs: (label) => `As ${label}.`,
  fingerMap: 'Where the notes lie',
  inTune: 'in the tune',
  inKey: 'in the key only',
  phraseMap: `Which ${bar}s are the same`,
  part: (label) => `Part ${label}`,
  boxesMean: `The large number in a box says when to learn it. Shaded: a ${bar} that you know by then.`,
});

const english = (variety: Variety): Wording => ({
  ...onSight(variety),
  ...inPractice(variety),
  ...heardAndSeen(variety),
  ...aside(variety),
});

/** The page's words in British or US English. */
export const wordingFor = (words: 'british' | 'us'): Wording =>
  words === 'us'
    ? english({ language: 'en-US', bar: 'measure', practise: 'practice' })
    : english({ language: 'en-GB', bar: 'bar', practise: 'practise' });
