import type { SheetPlan, SheetTempo, SheetVersion } from '../engrave/index.ts';
import { withChords } from '../harmony/index.ts';
import {
  capital,
  creditOf,
  dateWords,
  type Lesson,
  type LessonVersion,
  markedVersion,
  type Paper,
  sourceOfSetting,
  TEMPO_NAMES,
  tempoOf,
  titlesOf,
  togetherName,
  type VersionId,
  type VersionKind,
  versionOf,
} from '../lesson/index.ts';
import { formatMetre, keyName, TEMPO_STEPS } from '../music/index.ts';

/** Tempi for the heading: the slow one of the first version on the sheet, then steady and up to speed. */
const temposFor = (lesson: Lesson, version: VersionKind): readonly SheetTempo[] => {
  return TEMPO_STEPS.map((step) => ({
    beat: lesson.dance.beat,
    beatsPerMinute: tempoOf(lesson, step, version),
    words: TEMPO_NAMES[step],
  }));
};

const creditLines = (lesson: Lesson): readonly string[] => {
  const [, ...others] = titlesOf(lesson);
  const source = sourceOfSetting(lesson);
  const also = others.length === 0 ? [] : [`Also called ${others.join(', ')}`];
  return [creditOf(lesson), ...(source === '' ? [] : [source]), ...also];
};

/** The strings where they are not tuned as usual: ", strings tuned A E A E". */
const tunedTo = (tuning: Lesson['settings']['tuning']): string =>
  tuning === 'GDAE' ? '' : `, strings tuned ${[...tuning].join(' ')}`;

/** What a sheet of these versions shows. */
export const sheetPlanOf = (
  lesson: Lesson,
  [simplest, ...more]: readonly [VersionId, ...VersionId[]],
  paper: Paper,
): SheetPlan => {
  const { settings, written } = lesson;
  const first = versionOf(lesson, simplest);
  const others = more.map((id) => versionOf(lesson, id));
  const onSheet = (version: LessonVersion): SheetVersion => {
    const { score, ...hands } = markedVersion(lesson, version);
    return { id: version.id, name: version.name, score: withChords(score, lesson.chords), hands };
  };
  return {
    title: titlesOf(lesson)[0] ?? '',
    subtitle: others.length === 0 ? first.name : togetherName(others.length + 1),
    dance: capital(lesson.dance.name),
    credit: creditLines(lesson),
    keyAndMetre: `${keyName(written.key)}, ${formatMetre(written.metre)}${tunedTo(settings.tuning)}`,
    tempos: temposFor(lesson, others.length === 0 ? first.kind : 'full'),
    versions: [onSheet(first), ...others.map(onSheet)],
    paper,
    teacher: settings.teacher,
    date: dateWords(settings.date, settings.words),
    words: settings.words,
    ornaments: settings.names,
    largePrint: settings.largePrint,
  };
};
