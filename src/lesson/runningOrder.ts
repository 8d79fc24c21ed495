import { type Chapter, type Seconds, seconds } from '../core/index.ts';
import type { TempoStep } from '../music/index.ts';
import { type BarPlace, type Passage, RING_OUT, timelineLengthOf } from '../perform/index.ts';
import { type Address, barsOf, playedOrder } from '../score/index.ts';
import { CARE_LINE, tempoWords } from './credits.ts';
import { type LessonVersion, togetherName } from './ladder.ts';
import { fullestOf, type Lesson, tempoOf } from './lesson.ts';
import { type LearningStep, type PhraseMap, phraseMapOf } from './maps/phraseMap.ts';
import { stepWords } from './maps/phraseMapWords.ts';
import { type OrnamentRemark, type Remark, type TeachingNotes, teachingNotesOf } from './notes/index.ts';
import { barWord, capital } from './words.ts';

/** Words that a teacher says in a minute. Ours: unhurried, with an instrument in the hand; books are read aloud at some 150 (from memory). */
export const WORDS_A_MINUTE = 130;
/** Words for what no note has words for: greeting with title, credit and what is in the lesson; goodbye. Ours. */
const SPOKEN = { hello: 40, goodbye: 30 } as const;
/** Times that a phrase is played and left to the learner, and that an ornament's bar is played slowly. Ours. */
const PHRASE_TIMES = 2;

/** One thing that happens in the video. */
export interface Segment {
  /** "The bones, phrase by phrase". */
  readonly chapter: string;
  /** What is played, or talked of. */
  readonly what: string;
  /** What there is to say of it in sentences, where it stands nowhere else; else empty. */
  readonly say: string;
  /** Printed numbers of the bars that it is about; none: the whole tune. */
  readonly bars: readonly number[];
  /** Beats of the dance a minute at which it is played; null where somebody talks. */
  readonly tempo: number | null;
  readonly start: Seconds;
  /** Time of playing: from tempos, repeats and times through. */
  readonly played: Seconds;
  /** Time of talking: an estimate from the number of words. */
  readonly said: Seconds;
}

/** The video of a lesson as it is planned. */
export interface RunningOrder {
  readonly segments: readonly Segment[];
  readonly length: Seconds;
}

type Planned = Omit<Segment, 'start'>;

const timeOfWords = (count: number): Seconds => seconds((count / WORDS_A_MINUTE) * 60);

const wordCount = (...texts: readonly string[]): number =>
  texts.reduce((count, text) => count + (text.trim() === '' ? 0 : text.trim().split(/\s+/).length), 0);

const talk = (chapter: string, what: string, words: number, bars: readonly number[] = []): Planned => ({
  ...{ chapter, what, bars, say: '', tempo: null },
  played: seconds(0),
  said: timeOfWords(words),
});

interface Playing {
  readonly step: TempoStep;
  readonly times: number;
  readonly passage?: Passage;
  readonly echo?: number;
  readonly countIn?: boolean;
}

const timeOf = (lesson: Lesson, version: LessonVersion, { step, ...how }: Playing): number =>
  RING_OUT +
  timelineLengthOf(version.score, {
    dance: lesson.dance,
    beatsPerMinute: tempoOf(lesson, step, version.kind),
    tempoStep: step,
    melody: true,
    backing: null,
    ...(lesson.settings.swing === null ? {} : { swing: lesson.settings.swing }),
    ...how,
  });

const tempoAt = (lesson: Lesson, step: TempoStep, { kind }: LessonVersion): string =>
  tempoWords(lesson, tempoOf(lesson, step, kind));

const timesWords = (times: number): string =>
  times === 1 ? 'once' : times === 2 ? 'twice' : `${times} times`;

/** A version played through, as often as a track is. */
const through = (
  lesson: Lesson,
  version: LessonVersion,
  step: TempoStep,
  { chapter, what, times = lesson.settings.times }: { chapter: string; what: string; times?: number },
): Planned => ({
  chapter,
  what: `${what}, ${timesWords(times)} through, ${tempoAt(lesson, step, version)}`,
  bars: [],
  say: '',
  tempo: tempoOf(lesson, step, version.kind),
  played: seconds(timeOf(lesson, version, { step, times })),
  said: seconds(0),
});

/** What is known of a lesson's bars: their printed numbers, and which follow one another in playing. */
interface Bars {
  readonly numbers: (places: readonly BarPlace[]) => readonly number[];
  readonly isPlayed: (place: BarPlace) => boolean;
  readonly follows: (place: BarPlace, next: BarPlace) => boolean;
}

const keyOf = ({ part, bar }: BarPlace): string => `${part}/${bar}`;

const barsOfLesson = ({ written }: Lesson): Bars => {
  const numbers = new Map(
    barsOf(written).map(({ part, index, bar }) => [keyOf({ part, bar: index }), bar.number] as const),
  );
  const order = playedOrder(written);
  const played = new Set(order.map(keyOf));
  const counted = order.filter((place) => numbers.get(keyOf(place)) !== null);
  const pairs = new Set(counted.slice(1).map((next, i) => `${keyOf(counted[i] ?? next)} ${keyOf(next)}`));
  return {
    numbers: (places) => {
      const found = places.flatMap((place) => numbers.get(keyOf(place)) ?? []);
      return [...new Set(found)].sort((a, b) => a - b);
    },
    isPlayed: (place) => played.has(keyOf(place)),
    follows: (place, next) => pairs.has(`${keyOf(place)} ${keyOf(next)}`),
  };
};

/** Bars in stretches that are played without a gap. */
const stretches = (places: readonly BarPlace[], bars: Bars): readonly (readonly BarPlace[])[] => {
  const found: BarPlace[][] = [];
  for (const place of places.filter(bars.isPlayed)) {
    const last = found.at(-1);
    const before = last?.at(-1);
    if (last === undefined || before === undefined || !bars.follows(before, place)) found.push([place]);
    else last.push(place);
  }
  return found;
};

/** One step of the order of learning: said, played, left to the learner. */
const phrase = (
  lesson: Lesson,
  version: LessonVersion,
  { map, step, bars }: { readonly map: PhraseMap; readonly step: LearningStep; readonly bars: Bars },
): Planned => {
  const places = step.fresh.flatMap((i) => map.bars[i] ?? []);
  const words = stepWords(map, step, lesson.settings.words);
  const times = stretches(places, bars).map((stretch) => {
    const [from, to] = [stretch[0], stretch.at(-1)];
    if (from === undefined || to === undefined) return 0;
    const passage: Passage = { from, to };
    return timeOf(lesson, version, { step: 'learn', passage, echo: stretch.length, times: PHRASE_TIMES });
  });
  return {
    chapter: `${version.name}, phrase by phrase`,
    what: `Played and left to the learner, ${timesWords(PHRASE_TIMES)}, ${tempoAt(lesson, 'learn', version)}`,
    say: words,
    bars: bars.numbers(places),
    tempo: tempoOf(lesson, 'learn', version.kind),
    played: seconds(times.reduce((sum, time) => sum + time, 0)),
    said: timeOfWords(wordCount(words)),
  };
};

const placesIn = (remarks: readonly Remark[]): readonly Address[] =>
  remarks.flatMap(({ saying }) =>
    saying.pieces.flatMap((piece) => (typeof piece === 'string' ? [] : piece.claim.at)),
  );

const remarksTalk = (
  chapter: string,
  where: string,
  { remarks, bars }: { readonly remarks: readonly Remark[]; readonly bars: Bars },
): readonly Planned[] => {
  const first = remarks.filter((remark) => remark.first);
  if (first.length === 0) return [];
  const count = first.length === 1 ? 'the remark' : `the ${first.length} remarks`;
  const words = wordCount(...first.map(({ saying }) => saying.text));
  return [talk(chapter, `Talk: ${count} of the notes on ${where}`, words, bars.numbers(placesIn(first)))];
};

/** A version that has more in it than the one before: what is new, then played slowly. */
const fuller = (
  lesson: Lesson,
  version: LessonVersion,
  { notes, bars }: { readonly notes: TeachingNotes; readonly bars: Bars },
): readonly Planned[] => {
  const chapter = version.name;
  const talks =
    version.kind !== 'plain'
      ? []
      : [
          ...remarksTalk(chapter, 'the whole tune', { remarks: notes.tune, bars }),
          ...notes.parts.flatMap(({ label, remarks }) =>
            remarksTalk(chapter, `part ${label}`, { remarks, bars }),
          ),
        ];
  return [...talks, through(lesson, version, 'learn', { chapter, what: version.name })];
};

/** A kind of ornament: what it is, in its bar slowly, where it comes. */
const ornament = (lesson: Lesson, section: OrnamentRemark, bars: Bars): Planned => {
  const { name, what, slowly, hands, own, places, kind } = section;
  const { words } = lesson.settings;
  const standing = lesson.settings.standing[kind];
  const earlier = (standing?.see ?? []).flatMap((link) => ('lesson' in link ? [link.lesson] : []));
  const see = earlier.map((title) => `; point to the lesson \u201c${title}\u201d`).join('');
  const first = places.find(bars.isPlayed);
  const passage = first === undefined ? null : { from: first, to: first };
  const full = fullestOf(lesson);
  const [number] = first === undefined ? [] : bars.numbers([first]);
  const place = number === undefined ? `its ${barWord(words)}` : `${barWord(words)} ${number}`;
  const slow = passage === null ? '' : `, then ${place} slowly, ${timesWords(PHRASE_TIMES)}`;
  const played =
    passage === null
      ? 0
      : timeOf(lesson, full, { step: 'learn', passage, times: PHRASE_TIMES, countIn: false });
  return {
    chapter: 'The ornaments, one by one',
    what: `${capital(name)}: what the hand does${slow}${see}`,
    say: '',
    bars: bars.numbers(places),
    tempo: passage === null ? null : tempoOf(lesson, 'learn', full.kind),
    played: seconds(played),
    said: timeOfWords(wordCount(what, slowly, hands[0]?.text ?? '', standing?.words ?? '', ...own)),
  };
};

const planned = (lesson: Lesson, notes: TeachingNotes): readonly Planned[] => {
  const bars = barsOfLesson(lesson);
  const [simplest, ...others] = lesson.ladder;
  const fullest = fullestOf(lesson);
  const { story } = lesson.settings;
  const map = phraseMapOf(lesson.versions.plain, lesson.versions.full);
  const hello = 'Hello, and where the tune comes from';
  return [
    talk(hello, 'Talk: title, credit, what is in the lesson', SPOKEN.hello),
    ...(story.trim() === '' ? [] : [talk(hello, 'Talk: your story', wordCount(story))]),
    through(lesson, fullest, 'steady', { chapter: 'How it goes', what: fullest.name, times: 1 }),
    ...map.steps.map((step) => phrase(lesson, simplest, { map, step, bars })),
    through(lesson, simplest, 'learn', { chapter: `${simplest.name}, played`, what: simplest.name }),
    ...others.flatMap((version) => [
      ...(version.kind === 'full' ? notes.ornaments.map((section) => ornament(lesson, section, bars)) : []),
      ...fuller(lesson, version, { notes, bars }),
    ]),
    through(lesson, fullest, 'steady', {
      chapter: togetherName(lesson.ladder.length),
      what: togetherName(lesson.ladder.length),
    }),
    through(lesson, fullest, 'upToSpeed', { chapter: 'Up to speed', what: fullest.name }),
    talk(
      'Goodbye',
      'Talk: how to practise it, and where sheets and tracks are',
      SPOKEN.goodbye + wordCount(CARE_LINE),
    ),
  ];
};

/**
 * In which order does a video of this lesson go, and how long does each thing take?
 *
 * Hello and story; the tune once; the simplest version phrase by phrase in the order of learning, then played; each
 * fuller one with what is new in it; the ornaments one by one before the full version; all together; up to speed. Common
 * practice. What is played takes the time of the tracks' timelines; what is said is an estimate, see `WORDS_A_MINUTE`.
 * @param notes - the lesson's, where somebody has them already
 */
export const runningOrderOf = (
  lesson: Lesson,
  notes: TeachingNotes = teachingNotesOf(lesson),
): RunningOrder => {
  let start = 0;
  const segments = planned(lesson, notes).map((segment): Segment => {
    const at = seconds(start);
    start += segment.played + segment.said;
    return { ...segment, start: at };
  });
  return { segments, length: seconds(start) };
};

/** Segments of one chapter. */
export interface PlannedChapter extends Chapter {
  readonly segments: readonly Segment[];
}

/** The chapters of the video as it is planned. */
export const plannedChapters = ({ segments }: RunningOrder): readonly PlannedChapter[] => {
  const chapters: PlannedChapter[] = [];
  for (const segment of segments) {
    const { chapter: title, start, played, said } = segment;
    const last = chapters.at(-1);
    const end = start + played + said;
    if (last?.title === title)
      chapters[chapters.length - 1] = { ...last, end, segments: [...last.segments, segment] };
    else chapters.push({ start, end, title, segments: [segment] });
  }
  return chapters;
};
