import type { Span } from '../../core/index.ts';
import { midiOf } from '../../music/index.ts';
import type { DraftBar, DraftEvent } from './draft.ts';
import type { Problems } from './problems.ts';
import type { Reading } from './reading.ts';

/** Takes back slurs that were opened and never closed. */
export const settleSlurs = (r: Reading): void => {
  for (const { event, span } of r.slurs) {
    event.opens -= 1;
    r.problems.add('slur-unclosed', 'This slur is opened and never closed; it is left out.', span);
  }
  for (const span of r.waiting.opens) {
    r.problems.add('slur-unclosed', 'This slur is opened and has no note.', span);
  }
  r.slurs = [];
};

interface Placed {
  readonly event: DraftEvent;
  readonly bar: DraftBar;
  readonly barIndex: number;
}

const shareAPitch = (a: DraftEvent, b: DraftEvent): boolean =>
  a.pitches.some((p) => b.pitches.some((q) => midiOf(p) === midiOf(q)));

/** The first note of the stretch that the repeat end in that bar goes back to. */
const repeatStartNote = (bars: readonly DraftBar[], from: number): DraftEvent | undefined => {
  let at = from;
  while (at > 0 && (bars[at]?.repeatStart ?? 0) === 0 && (bars[at - 1]?.repeatEnd ?? 0) === 0) at -= 1;
  return bars[at]?.events[0];
};

const leadsBack = (bars: readonly DraftBar[], from: Placed): boolean => {
  const next = bars[from.barIndex + 1];
  if (from.bar.repeatEnd === 0 && next?.ending == null) return false;
  const start = repeatStartNote(bars, from.barIndex);
  return start !== undefined && start.kind === 'note' && shareAPitch(from.event, start);
};

/**
 * Sorts out the ties: one that joins two notes of one pitch stays; one between different notes was meant as a slur, as
 * old transcriptions write it; one that leads to a rest or to nothing goes.
 */
export const settleTies = (bars: readonly DraftBar[], problems: Problems): void => {
  const events = bars.flatMap((bar, barIndex) =>
    bar.events.map((event): Placed => ({ event, bar, barIndex })),
  );
  const asSlurs: Span[] = [];
  let depth = 0;
  let converted: DraftEvent | null = null;
  events.forEach((placed, i) => {
    const { event } = placed;
    const joined = converted === event;
    converted = null;
    depth += event.opens - (joined ? event.closes - 1 : event.closes);
    if (!event.tied) return;
    const next = events[i + 1]?.event;
    if (next !== undefined && next.kind === 'note' && shareAPitch(event, next)) return;
    if (leadsBack(bars, placed)) return;
    event.tied = false;
    if (next === undefined || next.kind === 'rest') {
      problems.add('tie-leads-nowhere', 'This tie leads to no note.', event.span);
      return;
    }
    asSlurs.push(event.span);
    if (depth > 0) return;
    if (joined) event.closes -= 1;
    else event.opens += 1;
    next.closes += 1;
    converted = next;
  });
  const [first] = asSlurs;
  if (first !== undefined) {
    const count = asSlurs.length === 1 ? 'A tie joins' : `${asSlurs.length} ties join`;
    problems.add(
      'tie-as-slur',
      `${count} two different notes; read as a slur${asSlurs.length === 1 ? '' : ' each'}.`,
      first,
    );
  }
};
