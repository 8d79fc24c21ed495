import { type BowedNote, bowingOf, type LiveNote, type LiveSound, type VoicePlace } from '../audio/index.ts';
import { decibels, seconds } from '../core/index.ts';
import type { PassBar, SeatedNote } from './pass.ts';
import type { Round } from './round.ts';

/** What the sound thread is told. */
export type Order =
  /** Begins at once with the round's first bar. */
  | { readonly kind: 'start'; readonly round: Round; readonly id: number }
  /** Goes over into another round at the next bar line, to the bar that would have come. */
  | { readonly kind: 'change'; readonly round: Round; readonly id: number }
  /** What comes when the round that plays has come to its end; it would have gone on by itself otherwise. */
  | { readonly kind: 'then'; readonly round: Round; readonly id: number }
  | { readonly kind: 'stop' };

/** What the sound thread reports: a bar that begins at a frame, or the end of all. */
export type Report =
  | {
      readonly kind: 'bar';
      readonly id: number;
      /** Place in the round. */
      readonly place: number;
      readonly frame: number;
    }
  | { readonly kind: 'end'; readonly frame: number };

/** A bar is settled so long before it begins, seconds: later wishes wait for the next one. Ours. */
const LEAD = 0.25;
/** From "start" to the first sound, seconds: silence is faded and the first notes are worked out. Ours. */
const SOON = 0.15;

/** Where further fiddles sit. Ours: to the left and right of the one in front, a little behind. */
const SEATS: readonly VoicePlace[] = [
  { level: decibels(-3), pan: -0.6 },
  { level: decibels(-3), pan: 0.5 },
  { level: decibels(-4), pan: 0.15 },
];

/** Plays rounds bar by bar into a live sound. */
export interface Sequencer {
  readonly order: (order: Order) => void;
  /** To be called before each block: settles what begins soon. */
  readonly advance: () => void;
}

interface Playing {
  readonly id: number;
  readonly round: Round;
  /** Place of the bar that is settled next. */
  next: number;
  /** Frame on which it begins. */
  frame: number;
}

const moved = (note: SeatedNote, by: number): SeatedNote => ({ ...note, start: seconds(note.start + by) });

/** The place in a round that goes on from a bar of another round: the same place where it is the same bar. */
const placeFor = (round: Round, index: number, place: number): number => {
  if (round.bars[place]?.index === index) return place;
  const found = round.bars.findLastIndex((b) => b.index === index && b.yours !== true);
  if (found >= 0) return found;
  return Math.max(
    0,
    round.bars.findIndex((b) => b.index >= 0),
  );
};

/** The fiddle's notes of a bar with what the bow does at each, told by the bars before and after. */
const bowedIn = (
  bar: PassBar,
  before: PassBar | null,
  after: PassBar | undefined,
  seat: number,
): readonly BowedNote[] => {
  const own = (b: PassBar): readonly SeatedNote[] =>
    b.notes.filter((n) => n.voice === 'fiddle' && n.seat === seat);
  const here = own(bar);
  if (here.length === 0) return [];
  const earlier = before === null ? [] : own(before).map((n) => moved(n, bar.start - before.end));
  const later = after === undefined ? [] : own(after).map((n) => moved(n, bar.end - after.start));
  const mine = new Set<object>(here);
  return bowingOf([...earlier, ...here, ...later]).filter((b) => mine.has(b.note));
};

type TurnOf = (line: string) => number;

/** Counts the notes of each line: small differences between notes come from their numbers. */
const turnCounter = (): TurnOf => {
  const turns = new Map<string, number>();
  return (line) => {
    const turn = turns.get(line) ?? 0;
    turns.set(line, turn + 1);
    return turn;
  };
};

/** A bar's notes on the frames where they sound. */
const liveNotesOf = (
  bar: PassBar,
  { before, after }: { readonly before: PassBar | null; readonly after: PassBar | undefined },
  { frame, rate, turnOf }: { readonly frame: number; readonly rate: number; readonly turnOf: TurnOf },
): readonly LiveNote[] => {
  const first = Math.round(bar.start * rate);
  const frameOf = (note: BowedNote['note']): number => frame + Math.round(note.start * rate) - first;
  const seats = [...new Set(bar.notes.filter((n) => n.voice === 'fiddle').map((n) => n.seat))];
  const bowed = seats.flatMap((seat) =>
    bowedIn(bar, before, after, seat).map((b): LiveNote => {
      const place = SEATS[seat - 1];
      return {
        kind: 'bowed',
        bowed: b,
        frame: frameOf(b.note),
        turn: turnOf(`fiddle ${seat}`),
        ...(place === undefined ? {} : { place }),
      };
    }),
  );
  const struck = bar.notes.flatMap((note): readonly LiveNote[] => {
    const { voice } = note;
    if (voice === 'fiddle') return [];
    return [{ kind: 'struck', note: { ...note, voice }, frame: frameOf(note), turn: turnOf(voice) }];
  });
  return [...bowed, ...struck];
};

/**
 * Makes a sequencer.
 * @param sound - what it plays into
 * @param report - told of each bar as it is settled, up to a quarter of a second before it sounds
 */
export const sequencerOf = (sound: LiveSound, rate: number, report: (report: Report) => void): Sequencer => {
  let playing: Playing | null = null;
  let waiting: { readonly kind: 'change' | 'then'; readonly round: Round; readonly id: number } | null = null;
  let before: PassBar | null = null;
  let turns = turnCounter();

  const settle = (now: Playing): void => {
    const bar = now.round.bars[now.next];
    if (bar === undefined) return;
    const following = now.next + 1 < now.round.bars.length ? now.next + 1 : now.round.again;
    const after = following === null ? undefined : now.round.bars[following];
    sound.add(liveNotesOf(bar, { before, after }, { frame: now.frame, rate, turnOf: turns }));
    report({ kind: 'bar', id: now.id, place: now.next, frame: now.frame });
    now.frame += Math.round(bar.end * rate) - Math.round(bar.start * rate);
    before = bar;
    now.next += 1;
  };

  const end = (frame: number): void => {
    report({ kind: 'end', frame });
    playing = null;
  };

  /** What comes when the last bar of a round has been settled: a round that waits, the same again, or the end. */
  const turnRound = (now: Playing): void => {
    if (waiting?.kind === 'then') {
      playing = { ...waiting, next: 0, frame: now.frame };
      waiting = null;
    } else if (now.round.again !== null) now.next = now.round.again;
    else end(now.frame);
  };

  const changeOver = (now: Playing): void => {
    if (waiting?.kind !== 'change') return;
    const coming = now.round.bars[now.next];
    const next = coming === undefined ? 0 : placeFor(waiting.round, coming.index, now.next);
    playing = { id: waiting.id, round: waiting.round, next, frame: now.frame };
    waiting = null;
  };

  const start = (round: Round, id: number): void => {
    sound.silence();
    turns = turnCounter();
    before = null;
    waiting = null;
    playing = { id, round, next: 0, frame: sound.frame() + Math.round(SOON * rate) };
  };

  return {
    order: (order) => {
      switch (order.kind) {
        case 'start':
          return start(order.round, order.id);
        case 'stop':
          sound.silence();
          playing = null;
          waiting = null;
          return;
        case 'change':
        case 'then':
          waiting = order;
          return;
        default:
          return order satisfies never;
      }
    },
    advance: () => {
      while (playing !== null && playing.frame <= sound.frame() + LEAD * rate) {
        if (playing.next >= playing.round.bars.length) turnRound(playing);
        if (playing === null) return;
        changeOver(playing);
        if (playing.round.bars.length === 0) return end(playing.frame);
        settle(playing);
      }
    },
  };
};
