import { equals, type WholeNotes } from '../../core/index.ts';
import { type Engraver, engraveSnippet } from '../../engrave/index.ts';
import { difficultyOf, fingeringOf, type StayDown, type WorkParts, waysToHold } from '../../fiddle/index.ts';
import {
  barChoicesOf,
  capital,
  fingeringOptionsOf,
  fullestOf,
  keptRemarks,
  type Lesson,
  type LessonVersion,
  markedVersion,
  stayDownChoice,
  stayDownsIn,
  suggestedKinds,
  suggestionNotesOf,
  teachingNotesOf,
  wayEventsOf,
  wayRemark,
} from '../../lesson/index.ts';
import { type Pitch, printedName } from '../../music/index.ts';
import { writeAbcBar } from '../../notation/index.ts';
import {
  type Address,
  addressKey,
  type Bar,
  barsOf,
  type Event,
  type Finger,
  fingerprintOf,
  type PlacedBar,
  placedEvents,
  type Score,
} from '../../score/index.ts';
import { choiceWords } from '../../versions/index.ts';
import { wording } from '../wording/index.ts';
import { isOwnNoteOn, sameEntry } from './barActs.ts';
import type {
  BarChoice,
  BarNotePlace,
  BarOrnament,
  BarReport,
  BarStayDown,
  BonesOfBar,
  VersionOfBar,
  WayOfBar,
} from './barMessages.ts';

const { bar: words } = wording;

/** From lowest to highest line of the small pictures, in points. Ours. */
const STAFF = 22;

/** A score in which one bar has other notes, and no chords. */
const withBar = (score: Score, placed: PlacedBar, events: readonly Event[]): Score => ({
  ...score,
  parts: score.parts.map((part) =>
    part.label !== placed.part
      ? part
      : {
          ...part,
          bars: part.bars.map((bar, i) => (i === placed.index ? { ...bar, events, chords: [] } : bar)),
        },
  ),
});

interface Place {
  readonly lesson: Lesson;
  readonly at: number;
  readonly placed: PlacedBar;
  readonly engraver: Engraver;
}

const barIn = (score: Score, { part, index }: PlacedBar): Bar | undefined =>
  score.parts.find((p) => p.label === part)?.bars[index];

const choicesIn = ({ lesson, at, placed, engraver }: Place, version: LessonVersion): readonly BarChoice[] => {
  const list = barChoicesOf(lesson, version.id);
  const here = list?.find((one) => one.part === placed.part && one.bar === placed.index)?.choices ?? [];
  const now = barIn(version.score, placed);
  const mine = now === undefined ? '' : fingerprintOf(now);
  const derived = here.map(({ events, reasons }) => ({ events, reason: choiceWords(reasons) }));
  const isDerived = derived.some(({ events }) => fingerprintOf({ events }) === mine);
  const own = isDerived || now === undefined ? [] : [{ events: now.events, reason: words.ownBar }];
  return [...derived, ...own].map(({ events, reason }, i): BarChoice => {
    const score = withBar(version.score, placed, events);
    const page = engraveSnippet(
      [{ id: `choice${i}`, name: version.name, score }],
      { from: at, to: at + 1, staff: STAFF },
      engraver,
    );
    return {
      abc: writeAbcBar({ ...placed.bar, events }, lesson.written.unit),
      reason,
      isNow: fingerprintOf({ events }) === mine,
      picture: page.svg,
      width: page.width,
    };
  });
};

const bonesIn = (place: Place): readonly BonesOfBar[] => {
  const { lesson, placed } = place;
  const remarks = keptRemarks(lesson);
  return lesson.ladder
    .filter((version) => version.kind === 'bones')
    .map((version) => {
      const kept = lesson.kept.findIndex(
        ({ kept: { version: id }, found }) =>
          id === version.id &&
          found.kind !== 'orphan' &&
          found.anchor.part === placed.part &&
          found.anchor.bar === placed.index,
      );
      return {
        version: version.id,
        name: version.name,
        choices: choicesIn(place, version),
        kept: kept === -1 ? null : kept,
        keptWords: kept === -1 ? '' : (remarks[kept]?.words ?? ''),
      };
    });
};

/** The other ways to play the bar, each with its picture. */
const waysIn = ({ lesson, at, placed, engraver }: Place): readonly WayOfBar[] =>
  lesson.ways.flatMap((state, index): readonly WayOfBar[] => {
    const { way, found } = state;
    if (found.kind === 'orphan' || found.anchor.part !== placed.part || found.anchor.bar !== placed.index)
      return [];
    const version = lesson.ladder.find(({ id }) => id === way.version);
    const events = wayEventsOf(way);
    const score = withBar((version ?? fullestOf(lesson)).score, placed, events);
    const page = engraveSnippet(
      [{ id: `way${index}`, name: '', score }],
      { from: at, to: at + 1, staff: STAFF },
      engraver,
    );
    return [
      {
        way: index,
        name: version?.name ?? way.version,
        abc: writeAbcBar({ ...placed.bar, events }, lesson.written.unit),
        played: way.played,
        printed: way.printed,
        remark: wayRemark(state, lesson) ?? '',
        picture: page.svg,
      },
    ];
  });

const versionsIn = ({ lesson, placed }: Place): readonly VersionOfBar[] =>
  lesson.ladder.map(({ id, name, score }) => {
    const bar = barIn(score, placed);
    return { version: id, name, abc: bar === undefined ? '' : writeAbcBar(bar, lesson.written.unit) };
  });

/** A finger that stays, told from others of its version. */
const stayDownKey = ({ from, finger, strings }: StayDown): string =>
  [addressKey(from), finger, ...strings].join(' ');

/** The fingers that go down in the bar and could stay, by version. */
const stayDownsHere = ({ lesson, placed }: Place): readonly BarStayDown[] =>
  lesson.ladder.flatMap((version) => {
    const shown = new Set(markedVersion(lesson, version).stayDowns.map(stayDownKey));
    return stayDownsIn(lesson, version)
      .filter(({ from }) => from.part === placed.part && from.bar === placed.index)
      .map((stay): BarStayDown => {
        const isShown = shown.has(stayDownKey(stay));
        return {
          version: version.id,
          name: version.name,
          reason: stay.reason,
          shown: isShown,
          other: stayDownChoice(lesson, version.id, stay, !isShown),
        };
      });
  });

/** What makes a bar's work beside its notes, heaviest first. */
const heaviest = (parts: WorkParts): readonly string[] =>
  (Object.keys(words.work) as (keyof typeof words.work)[])
    .filter((name) => parts[name] > 0)
    .toSorted((a, b) => parts[b] - parts[a])
    .slice(0, 2)
    .map((name) => words.work[name]);

const hardIn = ({ lesson, at }: Place): readonly string[] =>
  lesson.ladder.map((version) => {
    const judged = difficultyOf(version.score, {
      ...fingeringOptionsOf(lesson.settings),
      dance: lesson.dance,
    }).bars[at];
    return judged === undefined ? '' : words.hard(version.name, judged.word, heaviest(judged.parts));
  });

const ornamentsIn = ({ lesson, placed }: Place): Pick<BarReport, 'ornaments' | 'kinds'> => {
  const isHere = ({
    anchor,
  }: {
    readonly anchor: { readonly part: string; readonly bar: number };
  }): boolean => anchor.part === placed.part && anchor.bar === placed.index;
  const accepted = lesson.settings.acceptedOrnaments.filter(isHere);
  const suggested = suggestionNotesOf(lesson, { density: 'many' });
  const known = new Map(
    suggested.map((note) => [JSON.stringify([note.accept.anchor, note.accept.onset, note.kind]), note]),
  );
  const there = accepted.map((entry): BarOrnament => {
    const note = known.get(JSON.stringify([entry.anchor, entry.onset, entry.kind]));
    return {
      what: note?.what ?? words.accepted(capital(suggestedKinds(lesson, entry.kind))),
      about: '',
      entry,
      isAccepted: true,
    };
  });
  const free = suggested.filter(
    ({ accept }) => isHere(accept) && !accepted.some((entry) => sameEntry(entry, accept)),
  );
  const counts = new Map<string, number>();
  for (const { kind } of suggested) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  const kinds = [...new Set(free.map((note) => note.kind))].map((kind) => ({
    kind,
    name: suggestedKinds(lesson, kind),
    count: counts.get(kind) ?? 0,
  }));
  return {
    ornaments: [
      ...there,
      ...free.map((note) => ({
        what: note.what,
        about: `${note.reason} ${note.finger} ${note.bow}`,
        entry: note.accept,
        isAccepted: false,
      })),
    ],
    kinds: kinds.filter(({ count }) => count > 1),
  };
};

const notesOn = ({ lesson, placed }: Place): readonly string[] =>
  teachingNotesOf(lesson)
    .bars.filter((note) => note.part === placed.part && note.bar === placed.index)
    .flatMap((note) => note.sayings.map((saying) => saying.text));

const ownOn = ({ lesson, placed }: Place): BarReport['own'] => {
  const own = lesson.settings.ownNotes.find((note) => isOwnNoteOn(note, placed));
  return { words: own?.words ?? '', instead: own?.replaces !== undefined };
};

/** The chord symbol that is written at a place of a bar. */
const chordAt = (bar: Bar, onset: WholeNotes): string =>
  bar.chords.find((chord) => equals(chord.onset, onset))?.text ?? '';

/** Each finger that a pitch can be played with, once: where one lies on two strings, the lower position's. */
const handsFor = (pitch: Pitch, { settings }: Lesson): BarNotePlace['hands'] => {
  const seen = new Set<Finger>();
  return waysToHold(pitch, fingeringOptionsOf(settings)).flatMap(({ finger, string }) => {
    if (seen.has(finger)) return [];
    seen.add(finger);
    return [{ finger, where: words.handOn(finger, string) }];
  });
};

const writtenIn = ({ lesson, placed }: Place): readonly BarNotePlace[] => {
  const { written, settings } = lesson;
  const hands = new Map(
    fingeringOf(written, fingeringOptionsOf(settings)).map((f) => [addressKey(f.address), f]),
  );
  const bar = barIn(written, placed);
  if (bar === undefined) return [];
  const events = placedEvents(bar);
  const addressOf = (onset: WholeNotes): Address => ({ part: placed.part, bar: placed.index, onset });
  let open = 0;
  return events.flatMap(({ event, onset }, i): BarNotePlace[] => {
    if (event.kind !== 'note') return [];
    open += event.slurs.opens - event.slurs.closes;
    const address = addressOf(onset);
    const key = addressKey(address);
    const hand = hands.get(key);
    const next = events[i + 1];
    return [
      {
        key,
        address,
        name: printedName(event.pitches[0]),
        finger: event.fingers[0] ?? null,
        bow: event.bow,
        hands: handsFor(event.pitches[0], lesson),
        hand: hand === undefined ? '' : words.handOn(hand.finger, hand.string),
        signs: event.signs,
        chord: chordAt(bar, onset),
        slurred: open > 0,
        next: next?.event.kind === 'note' ? addressOf(next.onset) : null,
      },
    ];
  });
};

const fitsAt = ({ lesson, placed }: Place): readonly string[] =>
  lesson.fits.flatMap(({ simpler, fuller, fit }) =>
    fit.dissonances.some((d) => d.part === placed.part && d.bar === placed.index && d.strength !== 'passing')
      ? [words.listen(simpler.name, fuller.name)]
      : [],
  );

/** Everything that is known of a written bar; null where the tune has none at that place. */
export const barReport = (lesson: Lesson, at: number, engraver: Engraver): BarReport | null => {
  const bars = barsOf(lesson.versions.plain);
  const placed = bars[at];
  if (placed === undefined) return null;
  const place: Place = { lesson, at, placed, engraver };
  const sound = fingerprintOf(placed.bar);
  return {
    at,
    plain: writeAbcBar(placed.bar, lesson.written.unit),
    bones: bonesIn(place),
    ways: waysIn(place),
    versions: versionsIn(place),
    ...ornamentsIn(place),
    stayDowns: stayDownsHere(place),
    hard: hardIn(place),
    notes: notesOn(place),
    own: ownOn(place),
    written: writtenIn(place),
    alike: bars.flatMap(({ bar }, i) => (i !== at && fingerprintOf(bar) === sound ? [i] : [])),
    fit: fitsAt(place),
  };
};
