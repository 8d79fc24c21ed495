import { add, compare, equals, type Rational, sum, ZERO } from '../../core/index.ts';
import { isSamePitch, staffStepOf } from '../../music/index.ts';
import { type CountedBar, countedBarsOf, type Event, fingerprintOf, type Score } from '../../score/index.ts';

/** How a bar is like one that came before it in the tune. `as` is that bar's index in the map. */
export type Likeness =
  /** None comes near it. */
  | { readonly kind: 'new' }
  /** The same notes; `dressed`: with other ornaments on them. */
  | { readonly kind: 'same'; readonly as: number; readonly dressed: boolean }
  /** The same figure, so many staff steps higher (or lower, negative). */
  | { readonly kind: 'moved'; readonly as: number; readonly steps: number }
  /** Half of it or more is the same, from its beginning or up to its end. */
  | { readonly kind: 'begins' | 'ends'; readonly as: number };

/** A counted bar of the map. */
export interface MappedBar {
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
  /** Printed. */
  readonly number: number;
  readonly likeness: Likeness;
  /** In which step of the order it is learnt, from 1; a bar that is the same as one learnt before has that one's step. */
  readonly step: number;
}

/** One step of the order of learning: one or two bars that are new then. */
export interface LearningStep {
  /** From 1, counted through the tune. */
  readonly number: number;
  readonly part: string;
  /** Indices in the map of the bars that are new, in order. */
  readonly fresh: readonly number[];
  /** Indices of the bars that are known with them, in the whole tune. */
  readonly again: readonly number[];
}

/** Which bars of a tune are the same, and in which order to learn them. */
export interface PhraseMap {
  readonly bars: readonly MappedBar[];
  /** How many bars are different from one another. */
  readonly different: number;
  readonly steps: readonly LearningStep[];
}

/** A counted bar with what it sounds like. */
interface Heard {
  readonly part: string;
  readonly counted: CountedBar;
  readonly events: readonly Event[];
  readonly length: Rational;
  readonly print: string;
  /** Everything on it, ornaments included. */
  readonly dress: string;
}

const dressOf = (events: readonly Event[]): string =>
  events
    .map((e) => (e.kind === 'rest' ? 'z' : JSON.stringify([e.pitches, e.length, e.graces?.pitches, e.signs])))
    .join(' ');

const heardIn = (plain: Score, full: Score): readonly Heard[] =>
  plain.parts.flatMap((part, p) => {
    const dressed = full.parts[p] === undefined ? [] : countedBarsOf(full.parts[p]);
    return countedBarsOf(part).map((counted, i): Heard => {
      const bars = [counted.main, ...counted.behind];
      const own = dressed[i];
      return {
        part: part.label,
        counted,
        events: bars.flatMap((b) => b.events),
        length: sum(bars.flatMap((b) => b.events.map((e) => e.length))),
        print: bars.map(fingerprintOf).join(' '),
        dress: own === undefined ? '' : dressOf([own.main, ...own.behind].flatMap((b) => b.events)),
      };
    });
  });

const sameEvent = (a: Event | undefined, b: Event | undefined): boolean => {
  if (a === undefined || b === undefined || a.kind !== b.kind || !equals(a.length, b.length)) return false;
  return a.kind === 'rest' || b.kind === 'rest' || isSamePitch(a.pitches[0], b.pitches[0]);
};

/** How long two bars go together note for note, from the first of the rows on. */
const timeTogether = (a: readonly Event[], b: readonly Event[]): Rational => {
  let time: Rational = ZERO;
  for (let i = 0; i < a.length && sameEvent(a[i], b[i]); i += 1) time = add(time, a[i]?.length ?? ZERO);
  return time;
};

const isHalf = (time: Rational, whole: Rational): boolean =>
  compare(add(time, time), whole) >= 0 && compare(time, whole) < 0;

/** A figure has at least so many notes to be known again on other notes. Ours. */
const FIGURE = 4;

/** How many staff steps b is a's figure moved by; null where it is not. */
const movedBy = (a: Heard, b: Heard): number | null => {
  if (a.events.length !== b.events.length || a.events.length < FIGURE) return null;
  const steps = a.events.map((event, i) => {
    const other = b.events[i];
    if (event.kind !== 'note' || other?.kind !== 'note' || !equals(event.length, other.length)) return null;
    return staffStepOf(other.pitches[0]) - staffStepOf(event.pitches[0]);
  });
  const [first = null] = steps;
  if (first === null || first === 0 || Math.abs(first) > 7) return null;
  const shape = new Set(a.events.map((e) => (e.kind === 'note' ? staffStepOf(e.pitches[0]) : 0)));
  return shape.size > 1 && steps.every((s) => s === first) ? first : null;
};

const likenessOf = (bar: Heard, before: readonly Heard[]): Likeness => {
  const same = before.findIndex((b) => b.print === bar.print);
  if (same >= 0) return { kind: 'same', as: same, dressed: before[same]?.dress !== bar.dress };
  for (const [as, other] of before.entries()) {
    const steps = movedBy(other, bar);
    if (steps !== null) return { kind: 'moved', as, steps };
  }
  const longest = (of: (b: Heard) => Rational): { readonly as: number; readonly time: Rational } =>
    before.reduce((best, b, as) => (compare(of(b), best.time) > 0 ? { as, time: of(b) } : best), {
      as: -1,
      time: ZERO,
    });
  const begins = longest((b) => timeTogether(b.events, bar.events));
  const ends = longest((b) => timeTogether(b.events.toReversed(), bar.events.toReversed()));
  if (isHalf(begins.time, bar.length) && compare(begins.time, ends.time) >= 0)
    return { kind: 'begins', as: begins.as };
  return isHalf(ends.time, bar.length) ? { kind: 'ends', as: ends.as } : { kind: 'new' };
};

/** Bars of a part in twos, as they are taught. Common practice. */
const inTwos = (indices: readonly number[]): readonly (readonly number[])[] =>
  Array.from({ length: Math.ceil(indices.length / 2) }, (_, i) => indices.slice(2 * i, 2 * i + 2));

/**
 * The order of learning: part by part, two bars at a time; each part begins with its first two bars, then comes whatever
 * brings most of the tune with it, and where nothing does, what comes next.
 */
const stepsOf = (heard: readonly Heard[]): readonly LearningStep[] => {
  const steps: LearningStep[] = [];
  const known = new Set<string>();
  const printAt = (i: number): string => heard[i]?.print ?? '';
  const gain = (pair: readonly number[]): number => {
    const fresh = new Set(pair.map(printAt).filter((print) => !known.has(print)));
    return fresh.size === 0 ? 0 : heard.filter((b) => fresh.has(b.print)).length / fresh.size;
  };
  for (const part of new Set(heard.map((b) => b.part))) {
    const left = [...inTwos(heard.flatMap((b, i) => (b.part === part ? [i] : [])))];
    for (let first = true; left.length > 0; first = false) {
      const best = left.reduce((b, pair, i) => (gain(pair) > gain(left[b] ?? []) ? i : b), 0);
      const [pair = []] = left.splice(first ? 0 : best, 1);
      const fresh = pair.filter(
        (i, k) => !known.has(printAt(i)) && pair.findIndex((j) => printAt(j) === printAt(i)) === k,
      );
      if (fresh.length === 0) continue;
      for (const i of fresh) known.add(printAt(i));
      const prints = new Set(fresh.map(printAt));
      const again = heard.flatMap((b, i) => (prints.has(b.print) && !fresh.includes(i) ? [i] : []));
      steps.push({ number: steps.length + 1, part, fresh, again });
    }
  }
  return steps;
};

/**
 * Which bars of a tune are the same, and in which order are they best learnt?
 *
 * Bars are compared by their notes; pick-ups are left out. What changes only in its ornaments is the same bar, dressed
 * otherwise.
 * @param plain - the tune without ornaments
 * @param full - the same tune with them, to tell bars that are dressed otherwise
 */
export const phraseMapOf = (plain: Score, full: Score): PhraseMap => {
  const heard = heardIn(plain, full);
  const steps = stepsOf(heard);
  const stepByPrint = new Map(
    steps.flatMap((s) => s.fresh.map((i) => [heard[i]?.print ?? '', s.number] as const)),
  );
  const bars = heard.map(
    (b, i): MappedBar => ({
      part: b.part,
      bar: b.counted.index,
      number: b.counted.main.number ?? 0,
      likeness: likenessOf(b, heard.slice(0, i)),
      step: stepByPrint.get(b.print) ?? 0,
    }),
  );
  return { bars, different: new Set(heard.map((b) => b.print)).size, steps };
};
