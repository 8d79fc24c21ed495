import { equals } from '../../core/index.ts';
import {
  type AcceptedEntry,
  attachedOf,
  barChoicesOf,
  type Lesson,
  lengthBeside,
  type NewKeptBar,
  type NewWay,
  type OwnNote,
  suggestionNotesOf,
  withKeptBar,
  withoutKeptBar,
  withStayDown,
  withWay,
  withWayChanged,
} from '../../lesson/index.ts';
import { readAbcBar } from '../../notation/index.ts';
import { barsOf, type Event, fingerprintOf, type PlacedBar, writtenLengthOf } from '../../score/index.ts';
import { wording } from '../wording/index.ts';
import type { BarAct, BarActed } from './barMessages.ts';

const { bar: words } = wording;

const problem = (message: string): BarActed => ({ kind: 'problem', message });

const plainBar = (lesson: Lesson, at: number): PlacedBar | undefined => barsOf(lesson.versions.plain)[at];

/** Whether two entries mean the same ornament in the same place. */
export const sameEntry = (a: AcceptedEntry, b: AcceptedEntry): boolean =>
  a.anchor.part === b.anchor.part &&
  a.anchor.bar === b.anchor.bar &&
  a.onset === b.onset &&
  a.kind === b.kind;

/** The notes that a bar is to have, or why there are none. */
const eventsOf = (
  lesson: Lesson,
  placed: PlacedBar,
  act: Extract<BarAct, { kind: 'choose' | 'type' | 'addWay' }>,
): readonly Event[] | string => {
  if (act.kind === 'choose') {
    const list = barChoicesOf(lesson, act.version);
    const here = list?.find((one) => one.part === placed.part && one.bar === placed.index);
    return here?.choices[act.choice]?.events ?? words.noChoice;
  }
  const { bar } = placed;
  const read = readAbcBar(act.abc, { key: bar.key, metre: bar.metre, unit: lesson.written.unit });
  if (read.kind === 'problem')
    return read.diagnostics.map((d) => `${d.message} ${d.hint ?? ''}`.trim()).join(' ');
  const [length, wanted] = [writtenLengthOf({ ...bar, events: read.events }), writtenLengthOf(bar)];
  const said = lesson.settings.words;
  return equals(length, wanted)
    ? read.events
    : words.wrongLength(lengthBeside(length, wanted, said), lengthBeside(wanted, length, said));
};

const kept = (lesson: Lesson, act: Extract<BarAct, { kind: 'choose' | 'type' }>): BarActed => {
  const placed = plainBar(lesson, act.at);
  if (placed === undefined) return problem(words.noBar);
  const events = eventsOf(lesson, placed, act);
  if (typeof events === 'string') return problem(events);
  const { version, everywhere } = act;
  const one: NewKeptBar = { version, everywhere, part: placed.part, bar: placed.index, events };
  return { kind: 'change', change: withKeptBar(lesson, one) };
};

/** One more way to play a bar. */
const anotherWay = (lesson: Lesson, act: Extract<BarAct, { kind: 'addWay' }>): BarActed => {
  const placed = plainBar(lesson, act.at);
  if (placed === undefined) return problem(words.noBar);
  const events = eventsOf(lesson, placed, act);
  if (typeof events === 'string') return problem(events);
  const { version, played, printed } = act;
  const one: NewWay = { version, played, printed, part: placed.part, bar: placed.index, events };
  return { kind: 'change', change: withWay(lesson, one) };
};

/** The way to be played or printed otherwise; nothing that the act does not speak of changes. */
const wayChanged = (
  lesson: Lesson,
  { way, played, printed }: Extract<BarAct, { kind: 'changeWay' }>,
): BarActed => ({
  kind: 'change',
  change: withWayChanged(lesson, way, {
    ...(played === undefined ? {} : { played }),
    ...(printed === undefined ? {} : { printed }),
  }),
});

const withOrnaments = (
  lesson: Lesson,
  change: (entries: readonly AcceptedEntry[]) => readonly AcceptedEntry[],
): BarActed => {
  const attached = attachedOf(lesson);
  return {
    kind: 'change',
    change: { ...attached, acceptedOrnaments: change(attached.acceptedOrnaments) },
  };
};

const joined = (a: readonly AcceptedEntry[], b: readonly AcceptedEntry[]): readonly AcceptedEntry[] => [
  ...a,
  ...b.filter((entry) => !a.some((known) => sameEntry(known, entry))),
];

/** Whether a note is the teacher's own on that bar. */
export const isOwnNoteOn = (note: OwnNote, { part, index }: Pick<PlacedBar, 'part' | 'index'>): boolean =>
  note.about === 'bar' && note.anchor.part === part && note.anchor.bar === index;

/** The teacher's own words on a bar, in place of those that were there. */
const noted = (lesson: Lesson, { at, words: said, instead }: Extract<BarAct, { kind: 'note' }>): BarActed => {
  const placed = plainBar(lesson, at);
  if (placed === undefined) return problem(words.noBar);
  const others = lesson.settings.ownNotes.filter((note) => !isOwnNoteOn(note, placed));
  const anchor = { part: placed.part, bar: placed.index, plain: fingerprintOf(placed.bar) };
  const own: OwnNote = { about: 'bar', anchor, words: said.trim(), ...(instead ? { replaces: 'all' } : {}) };
  return { kind: 'change', change: { ownNotes: said.trim() === '' ? others : [...others, own] } };
};

/** What an act makes of lesson.json. */
export const barActed = (lesson: Lesson, act: BarAct): BarActed => {
  switch (act.kind) {
    case 'choose':
    case 'type':
      return kept(lesson, act);
    case 'forget':
      return { kind: 'change', change: withoutKeptBar(lesson, act.kept) };
    case 'addWay':
      return anotherWay(lesson, act);
    case 'changeWay':
      return wayChanged(lesson, act);
    case 'dropWay':
      return { kind: 'change', change: withWayChanged(lesson, act.way, null) };
    case 'accept':
      return withOrnaments(lesson, (entries) => joined(entries, act.entries));
    case 'acceptKind':
      return withOrnaments(lesson, (entries) =>
        joined(
          entries,
          suggestionNotesOf(lesson, { density: 'many' })
            .filter((note) => note.kind === act.ornament)
            .map((note) => note.accept),
        ),
      );
    case 'stayDown':
      return { kind: 'change', change: withStayDown(lesson, act.choice) };
    case 'note':
      return noted(lesson, act);
    case 'refuse':
      return withOrnaments(lesson, (entries) =>
        entries.filter((entry) => !act.entries.some((gone) => sameEntry(gone, entry))),
      );
    default:
      return act satisfies never;
  }
};
