import {
  loadEngraver,
  type ScreenLine,
  type SheetVersion,
  screenMusic,
  type WidthMemory,
} from '../../engrave/index.ts';
import { difficultyOf } from '../../fiddle/index.ts';
import {
  descriptionOf,
  fingeringOptionsOf,
  type Lesson,
  type LessonSettings,
  lessonOf,
  listOfBars,
  plannedChapters,
  practiceDataOf,
  practiceKeysOf,
  runningOrderOf,
  runningOrderText,
  summaryOf,
  tempoWords,
  titlesOf,
  USUAL_ORNAMENT_NAMES,
} from '../../lesson/index.ts';
import { type ReadWords, readLessonFile, readWordsFile } from '../../lessonfile/index.ts';
import { type AbcBook, type ReadTune, readAbc } from '../../notation/index.ts';
import { lineRows } from '../../player/index.ts';
import { addressKey, barsOf, notesOf, type Score } from '../../score/index.ts';
import { wording } from '../wording/index.ts';
import type {
  BarPlace,
  CameraChapter,
  LadderLine,
  LadderStep,
  TextProblem,
  WorkOrder,
  WorkReport,
} from './messages.ts';
import { remedyOf } from './remedies.ts';
import { shadesIn } from './shading.ts';

/** The texts read and the lesson worked out, or why there is none. */
export type WorkedLesson =
  | { readonly kind: 'lesson'; readonly lesson: Lesson; readonly tune: ReadTune; readonly book: AbcBook }
  | { readonly kind: 'nothing'; readonly problems: readonly TextProblem[]; readonly message: string };

/** A lesson is of one tune: a second one in its text would be left out without a word. */
const laterTune = (text: string, book: AbcBook): readonly TextProblem[] => {
  const [, second] = book.tunes;
  if (second === undefined) return [];
  const { start: from } = second.span;
  return [
    {
      from,
      to: from + Math.max(1, text.slice(from).search(/\r?\n|$/)),
      severity: 'warning',
      ...wording.ladder.laterTune,
      remedy: { from, to: text.length, insert: '', label: wording.ladder.leaveLaterTune },
    },
  ];
};

const problemsOf = (text: string, book: AbcBook): readonly TextProblem[] => {
  const problems = book.diagnostics.map((d) => ({
    from: d.span?.start ?? 0,
    to: Math.max(d.span?.end ?? 0, (d.span?.start ?? 0) + 1),
    severity: d.severity,
    message: d.message,
    hint: d.hint ?? '',
    remedy: remedyOf(text, d),
  }));
  return [...problems, ...laterTune(text, book)];
};

const ownWords = ({ names, standing }: Extract<ReadWords, { kind: 'words' }>) => ({
  names: { ...USUAL_ORNAMENT_NAMES, ...names },
  standing,
});

const settingsOf = ({ settings, words, today }: WorkOrder): LessonSettings | string => {
  const read = readLessonFile(settings);
  if (read.kind === 'problem') return read.problems.map((p) => p.message).join(' ');
  const standing = words === '' ? null : readWordsFile(words);
  return {
    ...read.settings,
    ...(standing?.kind === 'words' ? ownWords(standing) : {}),
    date: read.settings.date ?? today,
  };
};

/** Reads the texts of an order and works the lesson out. */
export const workedLesson = (order: WorkOrder): WorkedLesson => {
  const book = readAbc(order.abc);
  const problems = problemsOf(order.abc, book);
  const [tune] = book.tunes;
  if (tune === undefined || notesOf(tune.score).length === 0)
    return { kind: 'nothing', problems, message: wording.ladder.noTune };
  const settings = settingsOf(order);
  if (typeof settings === 'string')
    return { kind: 'nothing', problems, message: wording.ladder.settingsUnread(settings) };
  return { kind: 'lesson', lesson: lessonOf(tune.score, settings), tune, book };
};

/** Notes by address, with what makes them other than a note at the same place. */
const notesIn = (score: Score): ReadonlyMap<string, string> =>
  new Map(
    notesOf(score).map(({ note, address }) => [
      addressKey(address),
      JSON.stringify([note.pitches, note.graces, note.signs]),
    ]),
  );

/** Notes that a version has and the one below has not. */
const addedTo = (below: Score | undefined, score: Score): readonly string[] => {
  if (below === undefined) return [];
  const known = notesIn(below);
  return [...notesIn(score)].flatMap(([key, what]) => (known.get(key) === what ? [] : [key]));
};

const stepsOf = (lesson: Lesson): readonly LadderStep[] =>
  lesson.ladder.map(({ id, name, what, score }, i) => ({
    id,
    name,
    what,
    difficulty: difficultyOf(score, { ...fingeringOptionsOf(lesson.settings), dance: lesson.dance }).word,
    added: addedTo(lesson.ladder[i - 1]?.score, score),
    fit: lesson.fits[i - 1]?.fit.words ?? '',
  }));

const barPlacesOf = (score: Score, tune: ReadTune): readonly BarPlace[] =>
  barsOf(score).map(({ part, index, bar }) => {
    const span = tune.barSpans.get(`${part}/${index}`);
    return {
      part,
      index,
      number: bar.number,
      role: bar.role,
      from: span?.start ?? 0,
      to: span?.end ?? 0,
    };
  });

const CHORDS_ALONE = { bows: false, fingers: false, names: false, chords: true, stays: false } as const;

/** A ladder's lines with shades behind the notes that are new in their version, and chords over the line. */
const dressed = (
  lines: readonly ScreenLine[],
  steps: readonly LadderStep[],
  lesson: Lesson,
): readonly LadderLine[] => {
  const added = new Map(steps.map((step) => [step.id, new Set(step.added)]));
  const bars = barsOf(lesson.written);
  return lines.map((line) => {
    const rows = lineRows(line, {
      hands: new Map(),
      stays: [],
      chords: lesson.chords,
      bars,
      rows: CHORDS_ALONE,
    });
    return { ...line, above: rows.above, svg: shadesIn(line, added) + line.svg + rows.svg };
  });
};

/** Remembers the lines of the report before, so that equal ones need not travel. */
export const lineMemory = () => {
  let before: readonly string[] = [];
  return (lines: readonly LadderLine[]): readonly (LadderLine | number)[] => {
    const now = lines.map((line) => JSON.stringify(line));
    const places = new Map(before.map((text, i) => [text, i]));
    before = now;
    return lines.map((line, i) => places.get(now[i] ?? '') ?? line);
  };
};

/** What is remembered from one ladder to the next. */
export interface LadderMemory {
  readonly travelling: ReturnType<typeof lineMemory>;
  readonly widths: WidthMemory;
}

/** The ladder of a lesson, engraved. */
export const ladderReport = async (
  order: WorkOrder,
  worked: Extract<WorkedLesson, { kind: 'lesson' }>,
  { travelling, widths }: LadderMemory,
): Promise<Omit<Extract<WorkReport, { kind: 'ladder' }>, 'took'>> => {
  const { lesson, tune, book } = worked;
  const engraver = await loadEngraver();
  const before = engraver.drawn();
  const seen = lesson.ladder.filter((v) => !order.hidden.includes(v.id));
  const [first = lesson.ladder[0], ...others] = seen;
  const staff = ({ id, name, score }: (typeof lesson.ladder)[0]): SheetVersion => ({ id, name, score });
  const music = screenMusic([staff(first), ...others.map(staff)], order.barsInLine, engraver, widths);
  const steps = stepsOf(lesson);
  return {
    kind: 'ladder',
    job: order.job,
    title: titlesOf(lesson)[0] ?? '',
    summary: summaryOf(lesson),
    problems: problemsOf(order.abc, book),
    steps,
    bars: barPlacesOf(lesson.written, tune),
    music: { ...music, lines: travelling(dressed(music.lines, steps, lesson)) },
    drawn: engraver.drawn() - before,
  };
};

/** What playing and the panels need of a lesson. */
export const lessonReport = (job: number, lesson: Lesson): WorkReport => {
  const data = practiceDataOf(lesson);
  return { kind: 'lesson', job, data, keys: practiceKeysOf(data) };
};

/** The chapters of the video as they stand before the camera. */
const cameraChapters = (lesson: Lesson): readonly CameraChapter[] =>
  plannedChapters(runningOrderOf(lesson)).map(({ title, start, end, segments }) => {
    const tempo = segments.find((segment) => segment.tempo !== null)?.tempo ?? null;
    return {
      title,
      length: end - start,
      segments: segments.map(({ what, say, bars }) => ({
        what,
        say,
        bars: bars.length === 0 ? '' : listOfBars(bars.map(String), lesson.settings.words),
      })),
      tempo:
        tempo === null
          ? null
          : {
              beatsPerMinute: tempo,
              beatsInBar: lesson.dance.countIn.clicks,
              words: tempoWords(lesson, tempo),
            },
    };
  });

/** What is made of a lesson in words. */
export const wordsReport = (lesson: Lesson): WorkReport => ({
  kind: 'words',
  description: descriptionOf(lesson, 'default'),
  runningOrder: runningOrderText(lesson),
  chapters: cameraChapters(lesson),
});
