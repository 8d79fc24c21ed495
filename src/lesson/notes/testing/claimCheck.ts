import { add, compare, equals, type Rational, sum, ZERO } from '../../../core/index.ts';
import { bowingOf, type StringName } from '../../../fiddle/index.ts';
import {
  barLengthOf,
  isCompound,
  isSamePitch,
  midiOf,
  OPEN_STRINGS,
  type Pitch,
  printedChord,
  printedName,
  staffStepOf,
} from '../../../music/index.ts';
import type { Address, Bar, Finger, Note, Score } from '../../../score/index.ts';
import { type Lesson, lessonOf } from '../../lesson.ts';
import { DEFAULT_SETTINGS } from '../../settings.ts';
import type { BarPlace, Claim, Saying, Stated } from '../claims.ts';
import type { TeachingNotes } from '../remark.ts';
import { teachingNotesOf } from '../teachingNotes.ts';

/**
 * Holds what the notes say against the score, by other ways than those by which they were found: bars and notes are
 * looked up by hand, fingers are judged by where a hand can lie, likenesses note by note. Only the bow has one source.
 */

const barAt = (score: Score, { part, bar }: BarPlace): Bar | undefined =>
  score.parts.find((p) => p.label === part)?.bars[bar];

const noteIn = (score: Score, at: Address): Note | undefined => {
  let onset: Rational = ZERO;
  for (const event of barAt(score, at)?.events ?? []) {
    if (equals(onset, at.onset) && event.kind === 'note') return event;
    onset = add(onset, event.length);
  }
  return undefined;
};

const pitchIn = (score: Score, at: Address): Pitch | undefined => {
  const note = noteIn(score, at);
  if (at.grace !== undefined) return note?.graces?.pitches[at.grace];
  return note?.pitches[at.tone ?? 0];
};

const notesIn = (bar: Bar | undefined): readonly Note[] =>
  (bar?.events ?? []).flatMap((e) => (e.kind === 'note' ? [e] : []));

const NAMES: readonly StringName[] = ['G', 'D', 'A', 'E'];
const openOf = (string: StringName): number => midiOf(OPEN_STRINGS[NAMES.indexOf(string)] ?? OPEN_STRINGS[0]);

/** Semitones above the open string that a finger can stop in first position, stretches included. Common practice. */
const REACH: Readonly<Record<Finger, readonly [number, number]>> = {
  0: [0, 0],
  1: [1, 2],
  2: [3, 4],
  3: [4, 6],
  4: [6, 8],
};
const HEIGHTS: Readonly<Record<string, string>> = {
  '1 1': 'low',
  '2 3': 'low',
  '2 4': 'high',
  '3 4': 'low',
  '3 6': 'high',
  '4 6': 'low',
  '4 8': 'stretched',
};

const liesUnder = (pitch: Pitch, finger: Finger, string: StringName): boolean => {
  const semitones = midiOf(pitch) - openOf(string);
  return semitones >= REACH[finger][0] && semitones <= REACH[finger][1];
};

/** Whether first position has the pitch at all; above it any finger may be right. */
const inFirst = (pitch: Pitch): boolean => {
  const top = openOf('E') + REACH[4][1];
  return midiOf(pitch) >= openOf('G') && midiOf(pitch) <= top;
};

const numbersIn = (words: string): readonly number[] => [...words.matchAll(/\d+/g)].map((m) => Number(m[0]));

const beatIn = (bar: Bar, onset: Rational): { readonly beat: number; readonly onBeat: boolean } => {
  const full = barLengthOf(bar.metre);
  const written = sum(bar.events.map((e) => e.length));
  const short = full !== null && bar.role !== 'full' && compare(written, full) < 0;
  const missing = short ? full.num / full.den - written.num / written.den : 0;
  const unit = bar.metre.kind === 'free' ? 4 : bar.metre.unit;
  const beat = (isCompound(bar.metre) ? 3 : 1) / unit;
  const at = (missing + onset.num / onset.den) / beat;
  const whole = Math.floor(at + 1e-9);
  return { beat: whole + 1, onBeat: Math.abs(at - whole) < 1e-9 };
};

/** A counted bar with the rest of it, where it is split. */
const eventsOf = (score: Score, place: BarPlace) => {
  const bars = score.parts.find((p) => p.label === place.part)?.bars ?? [];
  const next = bars.slice(place.bar + 1).findIndex((b) => b.role !== 'restOfBar');
  const end = next < 0 ? bars.length : place.bar + 1 + next;
  return bars.slice(place.bar, end).flatMap((b) => b.events);
};

const looks = (event: Note | { readonly kind: 'rest'; readonly length: Rational }, shift = 0): string => {
  const length = `${event.length.num}/${event.length.den}`;
  return event.kind === 'rest' ? `z ${length}` : `${staffStepOf(event.pitches[0]) - shift} ${length}`;
};

const isLike = (score: Score, claim: Claim & { readonly kind: 'likeness' }): boolean => {
  const [at] = claim.at;
  if (at === undefined) return false;
  const [a, b] = [eventsOf(score, claim.as), eventsOf(score, at)];
  const exact = (e: (typeof a)[number]): string =>
    e.kind === 'rest' ? looks(e) : `${looks(e)} ${e.pitches[0].alter}`;
  const time = (events: typeof a): number => events.reduce((t, e) => t + e.length.num / e.length.den, 0);
  const together = (x: typeof a, y: typeof a): number => {
    const until = y.findIndex((e, i) => x[i] === undefined || exact(x[i]) !== exact(e));
    return time(until < 0 ? y : y.slice(0, until));
  };
  switch (claim.likeness) {
    case 'same':
      return a.map(exact).join() === b.map(exact).join();
    case 'moved':
      return a.map((e) => looks(e)).join() === b.map((e) => looks(e, claim.steps)).join();
    case 'begins':
      return together(a, b) * 2 >= time(b);
    case 'ends':
      return together(a.toReversed(), b.toReversed()) * 2 >= time(b);
    default:
      return false;
  }
};

/** Notes between two addresses of one part, both included. */
const between = (
  score: Score,
  from: Address,
  to: Address,
): readonly { readonly note: Note; readonly at: Address }[] => {
  const bars = score.parts.find((p) => p.label === from.part)?.bars ?? [];
  return bars.slice(from.bar, to.bar + 1).flatMap((bar, i) => {
    let onset: Rational = ZERO;
    return bar.events.flatMap((event) => {
      const at = { part: from.part, bar: from.bar + i, onset: onset as Address['onset'] };
      onset = add(onset, event.length);
      const early = at.bar === from.bar && compare(at.onset, from.onset) < 0;
      const late = at.bar === to.bar && compare(at.onset, to.onset) > 0;
      return event.kind === 'rest' || early || late ? [] : [{ note: event, at }];
    });
  });
};

/** Note names in a sentence of the fiddle room; "A" at its start and string names are none. */
const namesIn = (text: string): readonly string[] => {
  const plain = text
    .replace(/\b[GDAE] (string|and [GDAE] strings)/g, '')
    .replace(/^A (?=[a-z])/, '')
    .replace(/(?:^|\s)A (?=low|high|stretch)/g, ' ');
  return [...plain.matchAll(/\b[A-G](?:♯♯|♭♭|♯|♭)?(?![\w♯♭])/g)].map((m) => m[0]);
};

const bowAt = (score: Score, at: Address) =>
  bowingOf(score).find(
    ({ address }) => address.part === at.part && address.bar === at.bar && equals(address.onset, at.onset),
  );

/** Why a stated fact is false of the score; null where it holds. */
export const falsehoodOf = (lesson: Lesson, { words, claim }: Stated, saying: Saying): string | null => {
  const score = lesson.versions[claim.version];
  const every = (holds: (at: Address) => boolean): boolean => claim.at.every(holds);
  const claims = saying.pieces.flatMap((p) => (typeof p === 'string' ? [] : [p.claim]));
  const stringsFor = (at: Address): readonly StringName[] => {
    const said = claims.flatMap((c) => (c.kind === 'string' && c.at.includes(at) ? [c.string] : []));
    return said.length > 0 ? said : NAMES;
  };
  const holds = ((): boolean => {
    switch (claim.kind) {
      case 'bars': {
        const numbers = claim.at.map((at) => barAt(score, at)?.number ?? null);
        const wanted = [...new Set(numbers.filter((n) => n !== null))].sort((a, b) => a - b);
        const bare = words.replaceAll(/part \S+/g, '');
        const saidNumbers = [...numbersIn(bare)].sort((a, b) => a - b);
        return wanted.join() === saidNumbers.join() && every((at) => barAt(score, at) !== undefined);
      }
      case 'beat':
        return every((at) => {
          const bar = barAt(score, at);
          const is = bar === undefined ? null : beatIn(bar, at.onset);
          const word = `${claim.onBeat ? 'on' : 'after'} beat ${claim.beat}`;
          return is?.beat === claim.beat && is.onBeat === claim.onBeat && words.toLowerCase() === word;
        });
      case 'pitch':
        return (
          words === printedName(claim.pitch) &&
          claim.at.length > 0 &&
          every((at) => {
            const is = pitchIn(score, at);
            return is !== undefined && isSamePitch(is, claim.pitch);
          })
        );
      case 'flick':
        return every((at) => {
          const note = noteIn(score, at);
          if (note === undefined || !note.signs.includes('roll')) return false;
          const steps = staffStepOf(claim.pitch) - staffStepOf(note.pitches[0]);
          return claim.role === 'cut' ? steps === 1 || steps === 2 : steps === -1;
        });
      case 'finger':
        return every((at) => {
          const pitch = pitchIn(score, at);
          if (pitch === undefined) return false;
          if (saying.text.includes('position') || !inFirst(pitch)) return true;
          const written = noteIn(score, at)?.fingers ?? [];
          return stringsFor(at).some((string) => {
            if (written.length > 0) return true;
            const height = HEIGHTS[`${claim.finger} ${midiOf(pitch) - openOf(string)}`] ?? '';
            return liesUnder(pitch, claim.finger, string) && height === claim.height;
          });
        });
      case 'moves': {
        const flicked = claims.flatMap((c) =>
          c.kind === 'flick' || (c.kind === 'pitch' && c.at.some((a) => a.grace !== undefined))
            ? [c.pitch]
            : [],
        );
        const main = claims.flatMap((c) =>
          c.kind === 'pitch' && c.at[0]?.grace === undefined ? [c.pitch] : [],
        );
        const high = saying.text.includes('position');
        const could = (pitch: Pitch): boolean =>
          high || !inFirst(pitch) || NAMES.some((string) => liesUnder(pitch, claim.finger, string));
        return claim.finger !== 0 && [...flicked, ...main].some(could);
      }
      case 'string':
        return every((at) => {
          const pitch = pitchIn(score, at);
          return (
            pitch !== undefined && midiOf(pitch) >= openOf(claim.string) && words === `${claim.string} string`
          );
        });
      case 'bow':
        return words.startsWith(claim.bow) && every((at) => bowAt(score, at)?.bow === claim.bow);
      case 'opens': {
        const openings = claim.at.map((at) => bowAt(score, at));
        const first = every((at) => at.onset.num === 0 && notesIn(barAt(score, at)).length > 0);
        return (
          first && openings.length === claim.count && openings.every((b) => b?.bow === claim.bow && b.begins)
        );
      }
      case 'length':
        return every((at) => {
          const bar = barAt(score, at);
          const from = between(score, at, { ...at, onset: { num: 99, den: 1 } as Address['onset'] }).slice(
            0,
            3,
          );
          return bar !== undefined && equals(sum(from.map((n) => n.note.length)), claim.length);
        });
      case 'count':
        return (
          words === String(claim.count) && every((at) => notesIn(barAt(score, at)).length === claim.count)
        );
      case 'likeness':
        return isLike(score, claim);
      case 'different': {
        const prints = claim.at.map((at) =>
          eventsOf(score, at)
            .map((e) =>
              e.kind === 'rest' ? looks(e) : `${looks(e)} ${e.pitches[0].alter}${e.tiedToNext ? '-' : ''}`,
            )
            .join(),
        );
        return new Set(prints).size === claim.different;
      }
      case 'keepsAll':
        return every((at) => {
          const count = (version: 'bones' | 'plain') => notesIn(barAt(lesson.versions[version], at)).length;
          return count('bones') === count('plain');
        });
      case 'stayDown':
        return claim.stays.every((stay) => {
          const inside = between(score, stay.from, stay.to).flatMap(({ note }) => note.pitches);
          const under = (pitch: Pitch): boolean =>
            stay.strings.some((string) => !inFirst(pitch) || liesUnder(pitch, stay.finger, string));
          const names = namesIn(words);
          const found = names.map((name) => inside.filter((p) => printedName(p) === name && under(p)));
          const laid =
            stay.strings.length < 2 ||
            (found[0] ?? []).some((p) => (found[1] ?? []).some((q) => Math.abs(midiOf(p) - midiOf(q)) === 7));
          return names.length > 0 && found.every((f) => f.length > 0) && laid;
        });
      case 'awkward':
        return claim.places.every((place) => {
          const inside = new Set(
            between(score, place.from, place.to).flatMap(({ note }) => note.pitches.map(printedName)),
          );
          return namesIn(place.what).every((name) => inside.has(name));
        });
      case 'hardest':
        return claim.at.length > 0;
      case 'strings': {
        const all = score.parts.flatMap((p) => p.bars.flatMap(notesIn)).flatMap((n) => n.pitches);
        const low = Math.min(...all.map(midiOf));
        return claim.strings.some((s) => openOf(s) <= low) && claim.strings.every((s) => words.includes(s));
      }
      case 'without': {
        const all = score.parts.flatMap((p) => p.bars.flatMap(notesIn)).flatMap((n) => n.pitches);
        return claim.notes.every((n) => all.every((p) => p.step !== n.step || p.alter !== n.alter));
      }
      case 'chords': {
        const [at] = claim.at;
        const planned = lesson.chords.filter((c) => c.part === at?.part && c.bar === at.bar);
        const names = planned.map((c) => printedChord(c.chord));
        return names.filter((n, i) => n !== names[i - 1]).join() === claim.names.join();
      }
      case 'swing':
        return (
          Math.abs(claim.amount - (lesson.settings.swing ?? lesson.dance.swing)) < 0.051 &&
          words.includes(String(claim.amount))
        );
      default:
        return claim satisfies never;
    }
  })();
  return holds
    ? null
    : `${claim.kind}: "${words}" in "${saying.text}" (${JSON.stringify(claim).slice(0, 300)})`;
};

/** Words that state a fact must be stated as one: what is left of a sentence may hold no bar, finger, string or bow. */
const unstatedIn = (saying: Saying, parts: readonly string[]): readonly string[] => {
  const labels = parts.toSorted((a, b) => b.length - a.length);
  const rest = labels.reduce(
    (text, label) => text.replaceAll(label, ''),
    saying.pieces.map((p) => (typeof p === 'string' ? p : '¤')).join(''),
  );
  const found = rest.match(/\d+|\b[GDAE] string|\b(?:bar|measure)s? ¤?\d|\b(?:down|up)-bow\b/g) ?? [];
  return found.map((f) => `"${f}" in "${saying.text}"`);
};

/** Everything that notes say in sentences with facts. */
export const sayingsOf = (notes: TeachingNotes): readonly Saying[] => [
  ...notes.tune.map((r) => r.saying),
  ...notes.parts.flatMap((p) => p.remarks.map((r) => r.saying)),
  ...notes.ornaments.flatMap((o) => o.hands),
  ...notes.bars.flatMap((b) => b.sayings),
];

/** The stated facts of a sentence, each with the sentence. */
export const statedIn = (saying: Saying): readonly { readonly piece: Stated; readonly saying: Saying }[] =>
  saying.pieces.flatMap((piece) => (typeof piece === 'string' ? [] : [{ piece, saying }]));

/** The notes on a tune held against it. */
export const checkedNotes = (
  score: Score,
): { readonly sentences: number; readonly facts: number; readonly wrong: readonly string[] } => {
  const lesson = lessonOf(score, { ...DEFAULT_SETTINGS, date: '2026-01-31' });
  const sayings = sayingsOf(teachingNotesOf(lesson));
  const stated = sayings.flatMap(statedIn);
  const labels = score.parts.map((p) => p.label);
  const wrong = [
    ...stated.flatMap(({ piece, saying }) => falsehoodOf(lesson, piece, saying) ?? []),
    ...sayings.flatMap((saying) => unstatedIn(saying, labels)),
  ];
  return { sentences: sayings.length, facts: stated.length, wrong };
};
