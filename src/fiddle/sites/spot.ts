import {
  add,
  compare,
  divide,
  floorOf,
  isMultipleOf,
  multiply,
  type Rational,
  rational,
} from '../../core/index.ts';
import { midiOf } from '../../music/index.ts';
import {
  type Address,
  addressKey,
  type Bar,
  barsOf,
  metricalOffsetOf,
  type Note,
  placedEvents,
  type Score,
} from '../../score/index.ts';
import { type BowedNote, bowingOf } from '../bowing.ts';
import { type Fingered, fingeringOf } from '../fingering.ts';
import { danceOfScore, runningUnitOf } from '../runningUnit.ts';

/**
 * What weight the metre gives a place: the first beat of a bar, another beat of the dance, the middle of a beat of four
 * running notes, or none.
 */
export type Accent = 'bar' | 'beat' | 'offBeat' | 'none';

/** A note of the plain version as the hands and the metre see it. */
export interface Spot {
  readonly note: Note;
  readonly address: Address;
  readonly bar: Bar;
  readonly accent: Accent;
  /** Number of the beat that it stands on or after, from 1. */
  readonly beat: number;
  /** Its length in running notes. */
  readonly running: Rational;
  readonly held: Fingered;
  readonly bowed: BowedNote;
  /** The note before has its pitch, and nothing is silent between. */
  readonly equalBefore: boolean;
  /** It goes on sounding from the note before. */
  readonly tiedIn: boolean;
  /** A slur leads into it or away from it. */
  readonly slurred: boolean;
  /** Index among the tune's notes and rests. */
  readonly index: number;
}

/** Whether nothing stands on the note yet that an ornament would be put on top of. */
export const isFree = ({ note, tiedIn }: Spot): boolean =>
  !tiedIn && note.graces === null && note.signs.length === 0 && note.pitches.length === 1;

const accentAt = (at: Rational, bar: Bar, beat: Rational, running: Rational): Accent => {
  const first = bar.role === 'full' && at.num === 0;
  if (first) return 'bar';
  if (isMultipleOf(at, beat)) return 'beat';
  const two = multiply(running, rational(2));
  return compare(two, beat) < 0 && isMultipleOf(beat, two) && isMultipleOf(at, two) ? 'offBeat' : 'none';
};

/** What is known of the note before while the tune is walked through. */
interface Walk {
  before: Note | null;
  depth: number;
}

/**
 * Every note of a tune that an ornament could stand on, with its hold, stroke and accent.
 * @returns in written order; notes that no string has are left out
 */
export const spotsOf = (score: Score): readonly Spot[] => {
  const dance = danceOfScore(score);
  const running = runningUnitOf(dance, score.metre);
  const holds = new Map(fingeringOf(score).map((f) => [addressKey(f.address), f]));
  const bows = new Map(bowingOf(score).map((b) => [addressKey(b.address), b]));
  const spots: Spot[] = [];
  const walk: Walk = { before: null, depth: 0 };
  let index = 0;
  for (const { bar, part, index: barIndex } of barsOf(score)) {
    const offset = metricalOffsetOf(bar);
    for (const { event, onset } of placedEvents(bar)) {
      if (event.kind === 'rest') {
        walk.before = null;
        index += 1;
        continue;
      }
      const address: Address = { part, bar: barIndex, onset };
      const [held, bowed] = [holds.get(addressKey(address)), bows.get(addressKey(address))];
      const { before } = walk;
      const at = add(onset, offset);
      const equalBefore = before !== null && midiOf(before.pitches[0]) === midiOf(event.pitches[0]);
      if (held !== undefined && bowed !== undefined)
        spots.push({
          note: event,
          address,
          bar,
          accent: accentAt(at, bar, dance.beat, running),
          beat: floorOf(divide(at, dance.beat)) + 1,
          running: divide(event.length, running),
          held,
          bowed,
          equalBefore,
          tiedIn: before?.tiedToNext === true && equalBefore,
          slurred: walk.depth > 0 || event.slurs.opens > 0,
          index,
        });
      index += 1;
      walk.before = event;
      walk.depth = Math.max(0, walk.depth + event.slurs.opens - event.slurs.closes);
    }
  }
  return spots;
};
