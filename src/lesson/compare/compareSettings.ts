import { add, compare, equals, type Rational, toNumber, ZERO } from '../../core/index.ts';
import { ornamentsOf } from '../../fiddle/index.ts';
import {
  type Interval,
  midiOf,
  notatedBeatOf,
  type PitchClass,
  printedChord,
  printedName,
  transposedPitch,
  upTo,
} from '../../music/index.ts';
import {
  type Address,
  type Bar,
  barsOf,
  fingerprintOf,
  notesOf,
  placedEvents,
  type Score,
} from '../../score/index.ts';
import { alignBars, type TableBar } from '../anchors/index.ts';
import type { Lesson } from '../lesson.ts';
import { ornamentWords } from '../notes/index.ts';
import { barWord, capital, joined, listOfBars, type Words } from '../words.ts';

/** A bar of one of two settings. */
export interface SettingBar {
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
  /** Printed number; null for a pick-up and the rest of a bar. */
  readonly number: number | null;
}

/** Two bars that stand for each other, or a bar that the other setting has not. */
export interface ComparedBar {
  readonly first: SettingBar | null;
  readonly second: SettingBar | null;
  /** What is different, in sentences; none where they are alike. */
  readonly differences: readonly string[];
}

/** Two settings of one tune, bar under bar. */
export interface Comparison {
  /** In the order of the first; a bar of the second alone stands behind the one that it follows there. */
  readonly bars: readonly ComparedBar[];
  /** By what the second was moved to be compared, where it is in another key; null: not. */
  readonly moved: Interval | null;
  /** How many bars are alike, and which are not, in sentences. */
  readonly summary: readonly string[];
}

/** An event of a bar by what is heard of it. */
interface Heard {
  readonly onset: Rational;
  readonly end: Rational;
  /** Null for a rest. */
  readonly midi: number | null;
  readonly name: string;
}

const heardIn = (bar: Bar): readonly Heard[] =>
  placedEvents(bar).map(({ event, onset }) => ({
    onset,
    end: add(onset, event.length),
    midi: event.kind === 'rest' ? null : midiOf(event.pitches[0]),
    name: event.kind === 'rest' ? 'rest' : printedName(event.pitches[0]),
  }));

/** A stretch between two moments at which both settings begin something anew. */
interface Stretch {
  readonly from: Rational;
  readonly first: readonly Heard[];
  readonly second: readonly Heard[];
}

const stretchesOf = (first: readonly Heard[], second: readonly Heard[]): readonly Stretch[] => {
  const stretches: Stretch[] = [];
  const shared = first.filter((a) => second.some((b) => equals(a.onset, b.onset))).map(({ onset }) => onset);
  shared.forEach((from, i) => {
    const until = shared[i + 1];
    const inside = ({ onset }: Heard): boolean =>
      compare(onset, from) >= 0 && (until === undefined || compare(onset, until) < 0);
    stretches.push({ from, first: first.filter(inside), second: second.filter(inside) });
  });
  return stretches;
};

const isAlike = (a: readonly Heard[], b: readonly Heard[]): boolean =>
  a.length === b.length &&
  a.every(
    (one, i) =>
      one.midi === b[i]?.midi && equals(one.onset, b[i]?.onset ?? ZERO) && equals(one.end, b[i]?.end ?? ZERO),
  );

/** Neighbouring stretches that differ are told as one. */
const joinedStretches = (stretches: readonly Stretch[]): readonly Stretch[] => {
  const told: Stretch[] = [];
  let open = false;
  for (const stretch of stretches) {
    if (isAlike(stretch.first, stretch.second)) {
      open = false;
      continue;
    }
    const before = told.at(-1);
    if (open && before !== undefined)
      told[told.length - 1] = {
        from: before.from,
        first: [...before.first, ...stretch.first],
        second: [...before.second, ...stretch.second],
      };
    else told.push(stretch);
    open = true;
  }
  return told;
};

const namesOf = (heard: readonly Heard[]): string => heard.map(({ name }) => name).join(' ');

/** "on beat 2", "after beat 2". */
const placeOf = (from: Rational, bar: Bar): string => {
  const beat = toNumber(notatedBeatOf(bar.metre));
  const at = toNumber(from) / beat;
  const number = Math.floor(at + 1e-9) + 1;
  return Math.abs(at - (number - 1)) < 1e-9 ? `on beat ${number}` : `after beat ${number}`;
};

const stretchWords = ({ from, first, second }: Stretch, bar: Bar): string => {
  const place = capital(placeOf(from, bar));
  const [a, b] = [namesOf(first), namesOf(second)];
  const octave = (first[0]?.midi ?? 0) - (second[0]?.midi ?? 0);
  if (a !== b) return `${place}: ${a} in the first, ${b} in the second.`;
  if (octave !== 0)
    return `${place}: ${a} lies ${Math.abs(octave)} semitones ${octave > 0 ? 'lower' : 'higher'} in the second.`;
  return `${place}: ${a} in another rhythm.`;
};

const noteDifferences = (first: Bar, second: Bar): readonly string[] => {
  const [a, b] = [heardIn(first), heardIn(second)];
  const stretches = stretchesOf(a, b);
  if (stretches.length === 0) return [`${capital(namesOf(a))} in the first, ${namesOf(b)} in the second.`];
  return joinedStretches(stretches).map((stretch) => stretchWords(stretch, first));
};

const kindsAt = ({ versions, settings }: Lesson, { part, bar }: SettingBar): readonly string[] =>
  ornamentsOf(versions.full)
    .filter(({ address }: { readonly address: Address }) => address.part === part && address.bar === bar)
    .map(({ kind, address }) => {
      const { name } = ornamentWords(kind, settings.names, settings.words);
      const found = versions.full.parts.find(({ label }) => label === part)?.bars[bar];
      return found === undefined ? name : `${name} ${placeOf(address.onset, found)}`;
    });

/** What the one list has and the other has not, each as often as it is more. */
const without = (list: readonly string[], other: readonly string[]): readonly string[] => {
  const left = [...other];
  return list.filter((one) => {
    const at = left.indexOf(one);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
};

const ornamentDifferences = (a: readonly string[], b: readonly string[]): readonly string[] =>
  (
    [
      [without(a, b), 'first'],
      [without(b, a), 'second'],
    ] as const
  ).flatMap(([more, which]) => (more.length === 0 ? [] : [`Only in the ${which}: ${joined(more)}.`]));

/** The score with all its pitches moved, as far as bars are compared by them. */
const movedScore = (score: Score, interval: Interval): Score => ({
  ...score,
  parts: score.parts.map((part) => ({
    ...part,
    bars: part.bars.map((bar) => ({
      ...bar,
      events: bar.events.map((event) => {
        if (event.kind === 'rest') return event;
        const [melody, ...others] = event.pitches;
        const move = (p: typeof melody): typeof melody => transposedPitch(p, interval);
        return { ...event, pitches: [move(melody), ...others.map(move)] as const };
      }),
    })),
  })),
});

const mean = (score: Score): number => {
  const heights = notesOf(score).map(({ note }) => Number(midiOf(note.pitches[0])));
  return heights.reduce((sum, h) => sum + h, 0) / Math.max(1, heights.length);
};

/** By what the second tune is moved to lie where the first lies; null where both have one keynote. */
const between = (first: Score, second: Score): Interval | null => {
  const [to, from]: readonly (PitchClass | null)[] = [first.key.tonic, second.key.tonic];
  if (to == null || from == null) return null;
  const up = upTo(from, to);
  if (up.steps === 0 && up.semitones === 0) return null;
  const octaves = Math.round((mean(first) - mean(second) - up.semitones) / 12);
  return { steps: up.steps + 7 * octaves, semitones: up.semitones + 12 * octaves };
};

/** Written chords with their places: "G on beat 1". */
const chordsIn = (bar: Bar): readonly string[] =>
  bar.chords.flatMap(({ chord, onset }) =>
    chord === null ? [] : [`${printedChord(chord)} ${placeOf(onset, bar)}`],
  );

/** Written chords that only one of two bars has; where one bar has none, the teacher has just not written any. */
const chordDifferences = (first: Bar, second: Bar): readonly string[] => {
  const [a, b] = [chordsIn(first), chordsIn(second)];
  if (a.length === 0 || b.length === 0 || a.join() === b.join()) return [];
  return [`Chords: ${joined(a)} in the first, ${joined(b)} in the second.`];
};

/** Where slurs begin and end and which bow is written, note by note. */
const bowingOf = (bar: Bar): string =>
  bar.events
    .map((event) =>
      event.kind === 'note' ? `${event.slurs.opens}${event.slurs.closes}${event.bow ?? '-'}` : 'r',
    )
    .join();

const tableOf = (score: Score): readonly (TableBar & { readonly own: Bar })[] =>
  barsOf(score).map(({ bar, part, index }) => ({
    part,
    bar: index,
    fingerprint: fingerprintOf(bar),
    own: bar,
  }));

const summaryOf = (bars: readonly ComparedBar[], words: Words): readonly string[] => {
  const alike = bars.filter(({ differences }) => differences.length === 0).length;
  const numbers = (which: 'first' | 'second', of: readonly ComparedBar[]): readonly string[] =>
    of.flatMap((bar) => (bar[which]?.number == null ? [] : [`${bar[which]?.number}`]));
  const changed = numbers(
    'first',
    bars.filter((b) => b.first !== null && b.second !== null && b.differences.length > 0),
  );
  const onlyFirst = numbers(
    'first',
    bars.filter((b) => b.second === null),
  );
  const onlySecond = numbers(
    'second',
    bars.filter((b) => b.first === null),
  );
  return [
    alike === bars.length
      ? 'The two settings are alike.'
      : `${alike} of ${bars.length} ${barWord(words)}s ${alike === 1 ? 'is' : 'are'} alike.`,
    ...(changed.length === 0 ? [] : [`Different: ${listOfBars(changed, words)} of the first.`]),
    ...(onlyFirst.length === 0 ? [] : [`Only in the first: ${listOfBars(onlyFirst, words)}.`]),
    ...(onlySecond.length === 0 ? [] : [`Only in the second: ${listOfBars(onlySecond, words)}.`]),
  ];
};

/**
 * How do two settings of one tune differ, bar by bar?
 *
 * Bars are paired by what they sound like in "all the notes"; ornaments are those of the full versions. Bowing is told where
 * the notes are the same, chords where both have written some. A second setting in another key is moved to the first one's
 * before, and its chords are not compared.
 */
export const compareSettings = (first: Lesson, second: Lesson): Comparison => {
  const moved = between(first.versions.plain, second.versions.plain);
  const other = moved === null ? second.versions.plain : movedScore(second.versions.plain, moved);
  const [olds, news] = [tableOf(first.versions.plain), tableOf(other)];
  const became = alignBars(olds, news);
  const barOf = ({ part, bar, own }: (typeof olds)[number]): SettingBar => ({
    part,
    bar,
    number: own.number,
  });
  const differencesOf = (old: (typeof olds)[number], fresh: (typeof news)[number]): readonly string[] => [
    ...(old.fingerprint !== fresh.fingerprint
      ? noteDifferences(old.own, fresh.own)
      : bowingOf(old.own) === bowingOf(fresh.own)
        ? []
        : ['The same notes, bowed otherwise.']),
    ...(moved === null ? chordDifferences(old.own, fresh.own) : []),
    ...ornamentDifferences(kindsAt(first, barOf(old)), kindsAt(second, barOf(fresh))),
  ];
  const bars: ComparedBar[] = olds.map((old, o) => {
    const fresh = news[became[o] ?? -1];
    return fresh === undefined
      ? { first: barOf(old), second: null, differences: ['The second setting has no such bar.'] }
      : { first: barOf(old), second: barOf(fresh), differences: differencesOf(old, fresh) };
  });
  news.forEach((fresh, n) => {
    if (became.includes(n)) return;
    const follows = bars.findIndex(
      (bar) => n > 0 && bar.second?.part === news[n - 1]?.part && bar.second?.bar === news[n - 1]?.bar,
    );
    bars.splice(follows + 1, 0, {
      first: null,
      second: barOf(fresh),
      differences: ['The first setting has no such bar.'],
    });
  });
  return { bars, moved, summary: summaryOf(bars, first.settings.words) };
};
