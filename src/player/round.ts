import { midiNumber, seconds } from '../core/index.ts';
import { CLICK } from '../perform/index.ts';
import type { Pass, PassBar, SeatedNote } from './pass.ts';

/** Bars to be played one after the other, and what comes then. */
export interface Round {
  readonly bars: readonly PassBar[];
  /** Goes on with this bar after the last one; null: it ends. */
  readonly again: number | null;
}

/** What of a pass is to be played. */
export interface RoundPlan {
  /** First and last bar by their place in the played order, both included. */
  readonly from: number;
  readonly to: number;
  /** Round and round; else the tune is played to its end, whatever `to` says. */
  readonly loop: boolean;
  /** Begins here, inside the loop; null: at `from`. */
  readonly startAt: number | null;
  /** Full bars in each turn of "my turn, your turn"; null: the fiddle plays throughout. */
  readonly turns: number | null;
  readonly countIn: boolean;
}

/** A remainder under this share of a bar is none. */
const WHOLE = 0.02;

const lengthOf = (bars: readonly PassBar[]): number => bars.reduce((sum, b) => sum + b.end - b.start, 0);

const clipped = (note: SeatedNote, end: number): SeatedNote =>
  note.start + note.length <= end ? note : { ...note, length: seconds(Math.max(0.01, end - note.start)) };

/** The bar as the last one before a jump: nothing sounds beyond its end. */
const cutAtEnd = (bar: PassBar, end: number): PassBar => ({
  ...bar,
  end,
  notes: bar.notes.map((n) => clipped(n, bar.end)),
});

/** Notes that began in the bar before and still sound: begun anew, where playing starts in their middle. */
const carriedInto = (before: PassBar | undefined, bar: PassBar): readonly SeatedNote[] =>
  (before?.notes ?? []).flatMap((n): SeatedNote[] => {
    const left = n.start + n.length - bar.start;
    if (n.voice !== 'fiddle' || left < 0.05) return [];
    return [{ ...n, start: seconds(bar.start), length: seconds(left), attack: 'bow' }];
  });

const opened = (pass: Pass, bar: PassBar): PassBar => {
  const before = pass.onward.find((b) => b.index === bar.index - 1);
  const carried = carriedInto(before, bar);
  return carried.length === 0 ? bar : { ...bar, notes: [...carried, ...bar.notes] };
};

const isShort = (bar: PassBar | undefined, pass: Pass): boolean =>
  bar !== undefined && bar.end - bar.start < pass.fullBar * (1 - WHOLE);

/** Bars made to go round on the beat: the last one is filled where the sum is not whole bars. */
const closedUp = (bars: readonly PassBar[], pass: Pass): readonly PassBar[] => {
  const last = bars.at(-1);
  if (last === undefined) return bars;
  const rest = (lengthOf(bars) / pass.fullBar) % 1;
  const missing = rest < WHOLE || rest > 1 - WHOLE ? 0 : (1 - rest) * pass.fullBar;
  return [...bars.slice(0, -1), cutAtEnd(last, last.end + missing)];
};

/** The clicks before a bar: as the tune's own where it begins with that bar, else as many as lead to a full bar. */
const countInFor = (pass: Pass, first: PassBar): PassBar => {
  const { countIn } = pass;
  if (first.index === pass.onward[0]?.index) return countIn;
  const clicks = countIn.notes;
  const [one, two] = clicks;
  if (one === undefined) return countIn;
  const gap = two === undefined ? pass.fullBar : two.start - one.start;
  const firstFull = pass.onward.find((b) => !isShort(b, pass));
  const count = Math.max(1, Math.round((firstFull?.start ?? countIn.end) / gap));
  const perBar = Math.max(1, Math.round(pass.fullBar / gap));
  const notes = Array.from({ length: count }, (_, i): SeatedNote => {
    const accented = i % perBar === 0;
    const like = clicks.find((c) => (c.midi === CLICK.accented) === accented) ?? one;
    return {
      ...like,
      start: seconds(i * gap),
      midi: midiNumber(accented ? CLICK.accented : CLICK.plain),
    };
  });
  return { index: -1, start: 0, end: count * gap, notes };
};

const withoutFiddle = (bar: PassBar): PassBar => ({
  ...bar,
  yours: true,
  notes: bar.notes.filter((n) => n.voice !== 'fiddle'),
});

/** Bars in groups of so many full ones. */
const groupsOf = (bars: readonly PassBar[], size: number, pass: Pass): readonly (readonly PassBar[])[] => {
  const groups: PassBar[][] = [];
  let full = size;
  for (const bar of bars) {
    if (full >= size && !(isShort(bar, pass) && bar !== bars[0] && groups.length > 0 && full > size)) {
      groups.push([]);
      full = 0;
    }
    groups.at(-1)?.push(bar);
    if (!isShort(bar, pass) || groups.at(-1)?.length !== 1) full += 1;
  }
  return groups;
};

/** Each group with the fiddle, then without: the learner answers. */
const inTurns = (bars: readonly PassBar[], size: number, pass: Pass): readonly PassBar[] =>
  groupsOf(bars, size, pass).flatMap((group) => {
    const [first, ...others] = group;
    if (first === undefined) return [];
    // A lone pick-up would shift the beat of the answer.
    const leads = isShort(first, pass) && others.length > 0 && !isShort(others.at(-1), pass);
    const closed = closedUp(leads ? others : group, pass);
    const opening = closed[0];
    if (opening === undefined) return [];
    const mine = [opened(pass, opening), ...closed.slice(1)];
    return [...mine, ...mine.map(withoutFiddle)];
  });

const chosenBars = (pass: Pass, plan: RoundPlan): readonly PassBar[] => {
  const last = pass.onward.at(-1)?.index ?? 0;
  const to = plan.loop ? plan.to : last;
  const chosen = pass.onward.filter((b) => b.index >= plan.from && b.index <= to);
  if (plan.loop || plan.turns !== null) return chosen;
  return chosen.map((b) => (b.index === last ? pass.ending : b));
};

/** Whether the bars go round of themselves, the last short by the pick-up that is the first. */
const goesRound = (bars: readonly PassBar[], pass: Pass): boolean => {
  const rest = (lengthOf(bars) / pass.fullBar) % 1;
  return rest < WHOLE || rest > 1 - WHOLE;
};

/**
 * The bars to play, in order, with what is needed so that jumps keep the beat: a pick-up that the loop has no room for
 * is played the first time only, a last bar that is short is filled.
 */
export const roundOf = (pass: Pass, plan: RoundPlan): Round => {
  const chosen = chosenBars(pass, plan);
  const [first] = chosen;
  if (first === undefined) return { bars: [], again: null };
  const leadIn = plan.loop && isShort(first, pass) && chosen.length > 1 && !goesRound(chosen, pass);
  const body = leadIn ? chosen.slice(1) : chosen;
  const round =
    plan.turns !== null ? inTurns(body, plan.turns, pass) : plan.loop ? closedUp(body, pass) : body;
  const start =
    plan.startAt === null
      ? 0
      : Math.max(
          0,
          round.findIndex((b) => b.index === plan.startAt),
        );
  const lead = start > 0 ? round.slice(start) : leadIn && plan.turns === null ? [first, ...round] : round;
  const [opening, ...others] = lead;
  if (opening === undefined) return { bars: [], again: null };
  const before = [...(plan.countIn ? [countInFor(pass, opening)] : []), opened(pass, opening), ...others];
  if (!plan.loop) return { bars: before, again: null };
  // What was played to get into the loop is not played again.
  return start > 0 || leadIn || plan.countIn
    ? { bars: [...before, ...round], again: before.length }
    : { bars: round, again: 0 };
};
