import { parseArgs } from 'node:util';
import { type Diagnostic, equals, placeFinder } from '../core/index.ts';
import {
  type AllAttached,
  barChoicesOf,
  keptRemarks,
  type Lesson,
  type LessonVersion,
  lengthBeside,
  lessonOf,
  type NewKeptBar,
  withKeptBar,
  withoutKeptBar,
} from '../lesson/index.ts';
import { withSettings } from '../lessonfile/index.ts';
import { readAbcBar, writeAbcBar } from '../notation/index.ts';
import { type Bar, barsOf, type Event, type PlacedBar, writtenLengthOf } from '../score/index.ts';
import { writeWhole } from '../store/index.ts';
import { type BonesChoice, choiceWords } from '../versions/index.ts';
import { chooseTune } from './chooseTune.ts';
import { complain, EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { openSource, type Source } from './openSource.ts';
import { pathFrom } from './readTunes.ts';

/** Help of `keep`. */
export const KEEP_HELP = `tuneladder keep LESSON [--bar N [NOTES]] [options]

Bars of the bones in your own words: a kept bar stays when the rest is made anew.
LESSON is a folder with tune.abc and lesson.json; what is kept is stored in lesson.json.

  keep LESSON                     what is kept, and whether it is in force
  keep LESSON --bar 13            the bar as it is, and others to choose from, with reasons
  keep LESSON --bar 13 "d2 f2 a2 f2"
                                  keeps the bar as written here (ABC, in the tune's key and note length)
  keep LESSON --bar 13 --choice 2 keeps the second bar that is listed to choose from
  keep LESSON --forget 1          forgets the first of what is kept

  --bar N         the printed number; or a part and the place in it from 0, as in B/0 for a pick-up
  --everywhere    keeps it for all bars that sound the same in "all the notes"
  --version NAME  which version, where the lesson has several bones (default bones)`;

const OPTIONS = {
  bar: { type: 'string' },
  choice: { type: 'string' },
  forget: { type: 'string' },
  version: { type: 'string', default: 'bones' },
  everywhere: { type: 'boolean', default: false },
} as const;

/** A lesson that is open for keeping bars. */
interface Desk {
  readonly name: string;
  readonly lesson: Lesson;
  readonly lessonFile: NonNullable<Source['lessonFile']>;
}

const openDesk = async (name: string, io: Io): Promise<Desk | null> => {
  const source = await openSource(name, io);
  if (source === null) return null;
  if (source.lessonFile === null) {
    complain(io, `${name}:1:1: bars are kept in a lesson: name a folder with lesson.json and tune.abc.`);
    return null;
  }
  const tune = chooseTune(source.file, { number: undefined, times: 1 }, io);
  if (tune === null) return null;
  return { name, lesson: lessonOf(tune.score, source.stored), lessonFile: source.lessonFile };
};

/** Stores what is attached; null after a complaint that lesson.json has no room for it. */
const save = async (desk: Desk, attached: AllAttached, io: Io): Promise<Lesson | null> => {
  const { name, text } = desk.lessonFile;
  const changed = withSettings(text, attached);
  if (changed.kind === 'problem') {
    for (const { message } of changed.problems) complain(io, `${name}: ${message}`);
    return null;
  }
  await writeWhole(pathFrom(io, name), changed.text, name);
  return lessonOf(desk.lesson.written, { ...desk.lesson.settings, ...attached });
};

/** A bar by its printed number, or by part and place ("B/0"). */
const findBar = (lesson: Lesson, text: string): PlacedBar | undefined =>
  barsOf(lesson.versions.plain).find(
    ({ bar, part, index }) => String(bar.number) === text || `${part}/${index}` === text,
  );

const listKept = (lesson: Lesson, io: Io): void => {
  const remarks = keptRemarks(lesson);
  if (remarks.length === 0) say(io, 'No bar is kept.');
  remarks.forEach(({ words }, i) => {
    say(io, `${i + 1}. ${words}`);
  });
};

const complainOfBar = (name: string, text: string, problems: readonly Diagnostic[], io: Io): void => {
  const placeOf = placeFinder(text);
  for (const { severity, message, hint, span } of problems) {
    const { line, column } = placeOf(span?.start ?? 0);
    const kind = severity === 'error' ? '' : `${severity}: `;
    complain(io, `${name}:${line}:${column}: ${kind}${message}${hint === undefined ? '' : ` ${hint}`}`);
  }
};

/** What kept bars have no room for. */
const ornamentsOn = (events: readonly Event[]): boolean =>
  events.some(
    (e) => e.kind === 'note' && (e.graces !== null || e.signs.length + e.otherDecorations.length > 0),
  );

/** The events of a typed bar; null after a complaint. */
const typedBar = (lesson: Lesson, placed: PlacedBar, text: string, io: Io): readonly Event[] | null => {
  const { bar } = placed;
  const { words } = lesson.settings;
  const read = readAbcBar(text, { key: bar.key, metre: bar.metre, unit: lesson.written.unit });
  complainOfBar('NOTES', text, read.diagnostics, io);
  if (read.kind === 'problem') return null;
  const [length, wanted] = [writtenLengthOf({ ...bar, events: read.events }), writtenLengthOf(bar)];
  if (!equals(length, wanted)) {
    complain(
      io,
      `NOTES:1:1: this bar lasts ${lengthBeside(length, wanted, words)}, the tune's ${lengthBeside(wanted, length, words)}. All the notes have: ${writeAbcBar(bar, lesson.written.unit)}`,
    );
    return null;
  }
  if (ornamentsOn(read.events))
    complain(io, 'NOTES:1:1: remark: ornaments are left out; the bones have none.');
  return read.events;
};

/** The bones whose bars are kept; null after a complaint that there are none of that id. */
const bonesOf = (desk: Desk, id: string, io: Io): LessonVersion | null => {
  const bones = desk.lesson.ladder.filter(({ kind }) => kind === 'bones');
  const found = bones.find((version) => version.id === id);
  if (found !== undefined) return found;
  const there = bones.map((version) => version.id).join(', ');
  complain(
    io,
    there === ''
      ? `${desk.name}: this lesson has no bones.`
      : `${desk.name}: this lesson has no bones "${id}"; say which with --version: ${there}.`,
  );
  return null;
};

/** What may stand in a bar, the derived one first. */
const choicesAt = (lesson: Lesson, id: string, { part, index }: PlacedBar): readonly BonesChoice[] =>
  barChoicesOf(lesson, id)?.find((one) => one.part === part && one.bar === index)?.choices ?? [];

const show = (lesson: Lesson, bones: LessonVersion, placed: PlacedBar, io: Io): void => {
  const abcOf = (bar: Bar): string => writeAbcBar(bar, lesson.written.unit);
  const now = bones.score.parts.find(({ label }) => label === placed.part)?.bars[placed.index];
  const rows = choicesAt(lesson, bones.id, placed).map(
    ({ events, reasons }, i) =>
      [`  ${i + 1}`, abcOf({ ...placed.bar, events }), choiceWords(reasons)] as const,
  );
  const wide = Math.max(...rows.map(([, abc]) => abc.length));
  say(io, `All the notes: ${abcOf(placed.bar)}`);
  if (now !== undefined) say(io, `${bones.name}: ${abcOf(now)}`);
  say(io, 'To choose from:');
  for (const [number, abc, words] of rows) say(io, `${number}  ${abc.padEnd(wide)}  ${words}`);
};

/** The events of a chosen bar; null after a complaint. */
const chosenBar = (choices: readonly BonesChoice[], text: string, io: Io): readonly Event[] | null => {
  const chosen = /^[1-9]$/.test(text) ? choices[Number(text) - 1] : undefined;
  if (chosen !== undefined) return chosen.events;
  complain(io, `--choice takes a number from 1 to ${choices.length} for this bar, not "${text}".`);
  return null;
};

const forget = async (desk: Desk, text: string, io: Io): Promise<Exit> => {
  const remark = /^[1-9]\d{0,5}$/.test(text) ? keptRemarks(desk.lesson)[Number(text) - 1] : undefined;
  if (remark === undefined) {
    complain(
      io,
      `${desk.name}: nothing is kept under "${text}"; tuneladder keep ${desk.name} lists what is.`,
    );
    return EXIT.input;
  }
  if ((await save(desk, withoutKeptBar(desk.lesson, Number(text) - 1), io)) === null) return EXIT.input;
  say(io, `Forgotten: ${remark.words}`);
  return EXIT.done;
};

const keepEvents = async (desk: Desk, one: NewKeptBar, io: Io): Promise<Exit> => {
  const lesson = await save(desk, withKeptBar(desk.lesson, one), io);
  if (lesson === null) return EXIT.input;
  say(io, keptRemarks(lesson).at(-1)?.words);
  return EXIT.done;
};

interface Wanted {
  readonly bar: string;
  readonly version: string;
  readonly everywhere: boolean;
  readonly notes: string | undefined;
  readonly choice: string | undefined;
}

const atBar = async (desk: Desk, wanted: Wanted, io: Io): Promise<Exit> => {
  const { lesson, name } = desk;
  const bones = bonesOf(desk, wanted.version, io);
  if (bones === null) return EXIT.input;
  const placed = findBar(lesson, wanted.bar);
  if (placed === undefined) {
    complain(io, `${name}: the tune has no bar "${wanted.bar}".`);
    return EXIT.input;
  }
  const { notes, choice, everywhere } = wanted;
  if (notes === undefined && choice === undefined) {
    show(lesson, bones, placed, io);
    return EXIT.done;
  }
  const events =
    choice === undefined
      ? typedBar(lesson, placed, notes ?? '', io)
      : chosenBar(choicesAt(lesson, bones.id, placed), choice, io);
  if (events === null) return EXIT.input;
  return keepEvents(
    desk,
    { version: bones.id, everywhere, part: placed.part, bar: placed.index, events },
    io,
  );
};

/** `tuneladder keep`. */
export const keep = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const { values, positionals } = parseArgs({ args: [...argv], options: OPTIONS, allowPositionals: true });
  const [name, notes, ...more] = positionals;
  if (name === undefined || more.length > 0)
    throw new UsageError('keep: name one lesson folder, and put the notes of a bar into quotes');
  const { bar, version, everywhere } = values;
  const { choice } = values;
  if (bar === undefined && (notes !== undefined || choice !== undefined))
    throw new UsageError('keep: say which bar with --bar N');
  if (notes !== undefined && choice !== undefined)
    throw new UsageError('keep: write the bar, or choose one with --choice, not both');
  if (bar !== undefined && values.forget !== undefined)
    throw new UsageError('keep: --forget takes the number in the list of what is kept, and no --bar');
  const desk = await openDesk(name, io);
  if (desk === null) return EXIT.input;
  if (values.forget !== undefined) return forget(desk, values.forget, io);
  if (bar !== undefined) return atBar(desk, { bar, version, everywhere, notes, choice }, io);
  listKept(desk.lesson, io);
  return EXIT.done;
};
