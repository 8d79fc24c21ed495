import { add, asWholeNotes } from '../core/index.ts';
import { isSamePitch } from '../music/index.ts';
import type { Event, Note } from '../score/index.ts';
import { isNotatable } from './beams.ts';
import type { PlainSwitches } from './settings.ts';

/** An event of the plain version under way. */
interface Step {
  readonly event: Event;
  readonly from: number | null;
  readonly graceGone: boolean;
}

const endsSlurHere = (note: Note): Note =>
  note.slurs.opens > 0
    ? { ...note, slurs: { ...note.slurs, opens: note.slurs.opens - 1 } }
    : { ...note, slurs: { ...note.slurs, closes: note.slurs.closes + 1 } };

const beginsSlurHere = (note: Note): Note =>
  note.slurs.closes > 0
    ? { ...note, slurs: { ...note.slurs, closes: note.slurs.closes - 1 } }
    : { ...note, slurs: { ...note.slurs, opens: note.slurs.opens + 1 } };

const joined = (first: Note, second: Note): Note | null => {
  const length = asWholeNotes(add(first.length, second.length));
  if (first.tuplet !== null || second.tuplet !== null || !isNotatable(length)) return null;
  const slurs = {
    opens: first.slurs.opens + second.slurs.opens,
    closes: first.slurs.closes + second.slurs.closes,
  };
  const alone = slurs.opens > 0 && slurs.closes > 0 && first.slurs.opens > 0 && second.slurs.closes > 0;
  return {
    ...first,
    length,
    slurs: alone ? { opens: slurs.opens - 1, closes: slurs.closes - 1 } : slurs,
    tiedToNext: second.tiedToNext,
    beamedToNext: second.beamedToNext,
  };
};

/**
 * Two equal notes under one slur, once parted by a cut, would read as a tie when the cut has gone: the slur is broken
 * there, or the two become one note.
 *
 * Joining needs both in one bar and a length that one note head shows; else the slur is broken.
 * @param bars - the events of each bar in written order
 */
export const withSlursMended = <T extends Step>(
  bars: readonly (readonly T[])[],
  way: PlainSwitches['cutBetweenSlurred'],
): readonly (readonly Step[])[] => {
  let depth = 0;
  let before: { readonly bar: number; readonly at: number } | null = null;
  const result: Step[][] = [];
  bars.forEach((steps, bar) => {
    const out: Step[] = [];
    result.push(out);
    for (const step of steps) {
      const { event } = step;
      if (event.kind === 'rest') {
        out.push(step);
        before = null;
        continue;
      }
      const last: Step | undefined = before === null ? undefined : result[before.bar]?.[before.at];
      const earlier = last?.event.kind === 'note' ? last.event : null;
      let own: Note = event;
      if (
        step.graceGone &&
        depth > 0 &&
        earlier !== null &&
        isSamePitch(earlier.pitches[0], own.pitches[0])
      ) {
        const one = way === 'joined' && before?.bar === bar ? joined(earlier, own) : null;
        if (one !== null && before !== null) {
          depth = Math.max(0, depth + own.slurs.opens - own.slurs.closes);
          out[before.at] = { event: one, from: null, graceGone: false };
          continue;
        }
        if (before !== null && last !== undefined) {
          const row = result[before.bar];
          if (row !== undefined) row[before.at] = { ...last, event: endsSlurHere(earlier) };
        }
        depth = Math.max(0, depth + own.slurs.opens - own.slurs.closes);
        own = beginsSlurHere(own);
      } else depth = Math.max(0, depth + own.slurs.opens - own.slurs.closes);
      out.push({ ...step, event: own });
      before = { bar, at: out.length - 1 };
    }
  });
  return result;
};
